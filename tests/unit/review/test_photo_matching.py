"""Which entry a picture shows: claims first, then what was spoken nearest, and how sure that is."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from typing import Any

from voicelog.domain.entry import Entry, Finding, Kind
from voicelog.domain.slot import Slots
from voicelog.domain.zone import Cavity, Layout, Role, Zone, ZoneMap
from voicelog.review.photo_clock import Shot
from voicelog.review.photo_matching import Match, match

BEGUN = datetime(2026, 3, 14, 9, tzinfo=UTC)
MAP = ZoneMap(
    "small",
    "Small",
    {
        "rail": Zone("rail", "Rail", Role.LOAD_PATH, Layout.PAIR, Cavity.ALWAYS),
        "mount": Zone("mount", "Mount", Role.CRITICAL, Layout.PAIR, Cavity.ALWAYS),
    },
)
LEFT: Slots = {"zone": "rail", "side": "left"}
RIGHT: Slots = {"zone": "rail", "side": "right"}
MOUNT: Slots = {"zone": "mount", "side": "left"}


def _said(at_s: float, slots: Slots, kind: Kind = Kind.FINDING, **more: Any) -> Finding:
    at = (BEGUN + timedelta(seconds=at_s)).isoformat()
    name = f"e{round(at_s) + 1}.1"
    return Finding(Entry(name, f"u{name}", at, kind, slots), **more)


def _claim(at_s: float, slots: Slots = LEFT) -> Finding:
    return _said(at_s, slots, Kind.PHOTO)


def _shot(at_s: float, name: str = "a.jpg", **more: Any) -> Shot:
    return Shot(name, BEGUN + timedelta(seconds=at_s), **more)


def _match(shots: list[Shot], *findings: Finding, **more: Any) -> list[Match]:
    place = lambda slots: f"{slots.get('side')} {slots.get('zone')}"  # noqa: E731
    return list(match(shots, findings, MAP, place=place, **more))


def test_the_shot_after_a_claim_is_of_it_and_of_what_was_found_there() -> None:
    """With nearly full confidence, and the reason in words."""
    [found] = _match([_shot(34)], _said(20, LEFT), _claim(30))
    assert found.entries == ("e31.1", "e21.1")
    assert found.confidence == 0.95
    assert found.because == (
        "taken 4 s after a photo of it was announced: left rail (e31.1)",
        "e21.1 is of the same place",
    )


def test_a_shot_within_half_a_second_is_neither_before_nor_after() -> None:
    """Cameras and logs count no finer than that."""
    for gap_s in (-0.4, 0.0, 0.4):
        [found] = _match([_shot(30 + gap_s)], _claim(30))
        assert found.because[0].startswith("taken just when a photo of it was announced")


def test_a_claim_outweighs_what_is_spoken_while_shooting() -> None:
    """Talking goes on at the next place before the shutter falls."""
    [found] = _match([_shot(40)], _claim(30, LEFT), _said(39, RIGHT))
    assert found.entries == ("e31.1",)
    assert found.confidence > 0.8


def test_a_burst_is_of_one_claim() -> None:
    """Five shots in six seconds, one announcement."""
    shots = [_shot(33 + n * 1.5, f"{n}.jpg") for n in range(5)]
    found = _match(shots, _claim(30, LEFT), _said(35, RIGHT))
    assert {one.entries for one in found} == {("e31.1",)}


def test_two_pictures_of_the_same_second_share_their_claim() -> None:
    """Two phones, or one that writes no fractions."""
    found = _match([_shot(34, "b.jpg"), _shot(34, "a.jpg")], _claim(30))
    assert [(one.shot.name, one.entries) for one in found] == [
        ("a.jpg", ("e31.1",)),
        ("b.jpg", ("e31.1",)),
    ]


def test_a_claim_that_was_served_lets_the_next_place_have_its_shot() -> None:
    """The second shot comes half a minute later, after another place was spoken of."""
    first, second = _match([_shot(33, "1"), _shot(63, "2")], _claim(30, LEFT), _said(60, RIGHT))
    assert first.entries == ("e31.1",)
    assert second.entries == ("e61.1",)


def test_two_claims_have_the_shot_that_follows_each() -> None:
    """Even where the second one is spoken right before its shot."""
    first, second = _match([_shot(25, "1"), _shot(50, "2")], _claim(0, LEFT), _claim(30, RIGHT))
    assert (first.entries, second.entries) == (("e1.1",), ("e31.1",))


def test_a_shot_just_before_its_claim_is_of_it() -> None:
    """Some shoot first and say so then."""
    [found] = _match([_shot(28)], _claim(30))
    assert found.entries == ("e31.1",)


def test_without_a_claim_the_entry_spoken_nearest_counts() -> None:
    """Less sure than a claim."""
    [found] = _match([_shot(64)], _said(0, LEFT), _said(60, RIGHT), _said(160, MOUNT))
    assert found.entries == ("e61.1",)
    assert 0.5 <= found.confidence < 0.75


def test_between_two_places_a_picture_stays_unmatched() -> None:
    """The best guess is told, with its rival."""
    [found] = _match([_shot(45)], _said(0, LEFT), _said(60, RIGHT))
    assert found.entries == ()
    assert "may be of" in found.because[1]
    assert found.because[-1] == "too little to match it"


def test_a_lower_threshold_takes_the_guess() -> None:
    """Whoever looks at every picture anyway."""
    [found] = _match([_shot(45)], _said(0, LEFT), _said(60, RIGHT), least=0.1)
    assert len(found.entries) == 1


def test_a_files_own_time_is_a_weak_hint() -> None:
    """Enough next to a claim only, and said so."""
    near, spoken = _match(
        [_shot(32, "1", weak=True), _shot(302, "2", weak=True)], _claim(30), _said(300, MOUNT)
    )
    assert near.entries == ("e31.1",)
    assert near.confidence < 0.6
    assert spoken.entries == ()
    assert all(
        "only the file's own time tells when it was taken" in one.because for one in (near, spoken)
    )


def test_another_day_matches_nothing_and_says_how_far_it_is() -> None:
    """The rest of what is on the phone."""
    far, never = _match([_shot(-200_000), Shot("b", None)], _claim(30))
    assert far.because == ("taken 2 d 7 h before the nearest entry (e31.1)",)
    assert never.because == ("nothing tells when it was taken",)
    assert far.entries == never.entries == ()


def test_what_was_withdrawn_or_only_talk_is_never_shown() -> None:
    """Neither is a thing that a camera sees."""
    [found] = _match([_shot(3)], _said(0, LEFT, withdrawn=True), _said(2, {}, Kind.REMARK))
    assert found.entries == ()
    assert found.because == ("the log has no entry that a picture could show",)


def test_a_claim_about_the_inside_leaves_the_outside_out() -> None:
    """The bottom face was spoken of at the same rail; the camera went into the hole."""
    inside, below = {**LEFT, "face": "interior"}, {**LEFT, "face": "bottom"}
    [found] = _match([_shot(33)], _said(10, below), _said(20, inside), _claim(30, inside))
    assert found.entries == ("e31.1", "e21.1")


def test_both_sides_and_one_of_them_are_the_same_place() -> None:
    """A finding on both rails is what the left one's claim shows too."""
    [found] = _match([_shot(33)], _said(20, {**LEFT, "side": "both"}), _claim(30))
    assert found.entries == ("e31.1", "e21.1")


def test_thousands_of_pictures_and_entries_are_quick() -> None:
    """A long day: nothing is compared with everything."""
    findings = [_said(n * 20, (LEFT, RIGHT, MOUNT)[n % 3]) for n in range(1000)]
    found = _match([_shot(n * 10 + 2, f"{n:05}") for n in range(500)], *findings)
    assert len(found) == 500
