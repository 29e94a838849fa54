"""Coverage: what was looked at, and what that leaves open."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest

from voicelog.domain.entry import Inspection, Kind, Seen
from voicelog.domain.grade import Gap
from voicelog.domain.zone import Rails, ZoneMap

Inspect = Callable[..., Inspection]


def at(inspection: Inspection, zone: str, side: str | None = None) -> Seen:
    """What was seen at one place."""
    return inspection.coverage[zone, side]


def why(inspection: Inspection, zone: str) -> list[tuple[str | None, str]]:
    """The gaps of one zone, as (side, why)."""
    return [(gap.side, gap.why) for gap in inspection.gaps if gap.zone == zone]


def test_nothing_said_leaves_every_place_open(inspect: Inspect, zone_map: ZoneMap) -> None:
    """In the order of the map, both sides of a pair, then the cavity."""
    inspection = inspect()
    gaps = [(gap.zone, gap.side) for gap in inspection.gaps if gap.why == "not-seen"]
    assert gaps == [(zone.id, side) for zone in zone_map.zones.values() for side in zone.sides()]
    assert why(inspection, "kick-up") == [
        ("left", "not-seen"),
        ("left", "cavity-not-seen"),
        ("right", "not-seen"),
        ("right", "cavity-not-seen"),
    ]
    assert set(inspection.coverage) == set(gaps)


def test_a_side_counts_for_itself_and_both_for_both(inspect: Inspect, make: Any) -> None:
    """One side looked at says nothing of the other; no side said, of neither."""
    left = inspect(make(zone="sill", side="left", condition="surface-rust"))
    assert (at(left, "sill", "left").looked, at(left, "sill", "right").looked) == (True, False)
    both = inspect(make(Kind.CLEAR, zone="sill", side="both"))
    assert why(both, "sill") == []
    unsaid = inspect(make(zone="sill", condition="surface-rust"))
    assert why(unsaid, "sill")[:2] == [("left", "not-seen"), ("right", "not-seen")]


def test_a_place_that_comes_once_needs_no_side(inspect: Inspect, make: Any) -> None:
    """Whatever side was said, it was that place."""
    for side in ({}, {"side": "left"}):
        inspection = inspect(make(zone="brake-line", condition="surface-rust", **side))
        assert at(inspection, "brake-line").looked


@pytest.mark.parametrize(
    ("slots", "probed"),
    [
        ({}, False),
        ({"method": "seen"}, False),
        ({"method": "tapped"}, False),
        ({"method": "scraped"}, True),
        ({"method": "probed"}, True),
        ({"method": "gauged"}, True),
        ({"probe": "firm"}, True),
        ({"probe": "firm", "doubts": ("noisy",)}, False),
    ],
)
def test_critical_mountings_have_to_be_probed(
    slots: dict[str, Any], probed: bool, inspect: Inspect, make: Any
) -> None:
    """Looked at only is a gap there, and only there."""
    slots = {"condition": "surface-rust", "side": "left", **slots}
    inspection = inspect(make(zone="shock-mount", **slots), make(zone="mid-rail", **slots))
    assert at(inspection, "shock-mount", "left").probed is probed
    assert (("left", "not-probed") in why(inspection, "shock-mount")) is not probed
    assert ("left", "not-probed") not in why(inspection, "mid-rail")


@pytest.mark.parametrize(
    ("kind", "slots", "inside"),
    [
        (Kind.CLEAR, {"face": "interior"}, True),
        (Kind.FINDING, {"face": "interior", "condition": "scale"}, True),
        (Kind.PHOTO, {"face": "interior"}, True),
        (Kind.CLEAR, {"method": "scoped"}, True),
        (Kind.CLEAR, {"face": "inboard"}, False),
        (Kind.PHOTO, {}, False),
        (Kind.CLEAR, {"face": "interior", "doubts": ("inside or inboard",)}, False),
        (Kind.FINDING, {"face": "interior", "condition": "scale", "doubts": ("noisy",)}, False),
        (Kind.PHOTO, {"face": "interior", "doubts": ("noisy",)}, False),
        (Kind.FINDING, {"face": "interior", "condition": "debris"}, False),
        (Kind.REMARK, {"face": "interior"}, False),
    ],
)
def test_a_cavity_needs_its_own_look(
    kind: Kind, slots: dict[str, Any], inside: bool, inspect: Inspect, make: Any
) -> None:
    """Only a sure look, camera or photo of the inside counts."""
    inspection = inspect(make(kind, zone="kick-up", side="left", **slots))
    assert at(inspection, "kick-up", "left").inside is inside
    assert (("left", "cavity-not-seen") in why(inspection, "kick-up")) is not inside
    assert at(inspection, "kick-up", "right").inside is False


def test_rails_hide_a_cavity_when_boxed(inspect: Inspect, make: Any) -> None:
    """Open ones have no inside; of mixed ones an inside that was seen is noted."""
    look = {"zone": "mid-rail", "side": "left", "face": "interior"}
    expected = {Rails.BOXED: (True, False), Rails.MIXED: (True, None), Rails.OPEN: (None, None)}
    for rails, (left, right) in expected.items():
        inspection = inspect(make(Kind.CLEAR, **look), rails=rails)
        assert at(inspection, "mid-rail", "left").inside is left
        assert at(inspection, "mid-rail", "right").inside is right
    boxed = inspect(rails=Rails.BOXED)
    assert ("left", "cavity-not-seen") in why(boxed, "mid-rail")
    assert (None, "cavity-not-seen") in why(boxed, "rear-cross-member")


def test_a_photo_is_noted_but_is_no_look(inspect: Inspect, make: Any) -> None:
    """A picture claimed says nothing about what was found there."""
    seen = at(inspect(make(Kind.PHOTO, zone="brake-line")), "brake-line")
    assert (seen.photo, seen.looked) == (True, False)


def test_a_doubtful_clear_is_no_look_but_a_doubtful_finding_is(inspect: Inspect, make: Any) -> None:
    """What may be misheard must not clear a place; what was found there still counts."""
    clear = make(Kind.CLEAR, zone="brake-line", doubts=("noisy",))
    finding = make(zone="fuel-line", condition="surface-rust", doubts=("noisy",))
    inspection = inspect(clear, finding)
    assert why(inspection, "brake-line") == [(None, "not-seen"), (None, "doubtful")]
    assert why(inspection, "fuel-line") == [(None, "doubtful")]
    assert [gap.reason for gap in inspection.gaps if gap.why == "doubtful"] == ["noisy", "noisy"]


def test_why_a_place_was_not_seen(inspect: Inspect, make: Any) -> None:
    """The gap carries the entry and its reason; a later look settles it."""
    shield = make(
        Kind.NOT_SEEN,
        zone="control-arm-mount",
        side="right",
        face="interior",
        reason="splash shield in the way",
    )
    gap = Gap(
        "control-arm-mount",
        "cavity-not-seen",
        side="right",
        face="interior",
        entry=shield.id,
        reason="splash shield in the way",
    )
    assert gap in inspect(shield).gaps
    look = make(Kind.CLEAR, zone="control-arm-mount", side="right", face="interior")
    assert gap not in inspect(shield, look).gaps
    assert gap in inspect(look, shield).gaps


def test_a_face_that_was_not_seen_stays_open(inspect: Inspect, make: Any) -> None:
    """A look at the place does not show that face; a look at the face does."""
    top = make(Kind.NOT_SEEN, zone="mid-rail", side="left", face="top", reason="tank")
    look = make(Kind.CLEAR, zone="mid-rail", side="left")
    same = make(Kind.CLEAR, zone="mid-rail", side="left", face="top")
    (gap,) = [g for g in inspect(top, look).gaps if g.zone == "mid-rail" and g.side == "left"]
    assert (gap.why, gap.face, gap.entry) == ("not-seen", "top", top.id)
    assert ("left", "not-seen") not in why(inspect(top, same), "mid-rail")


def test_a_look_at_one_face_settles_that_the_place_could_not_be_seen(
    inspect: Inspect, make: Any
) -> None:
    """Whatever was in the way is gone; another face that was not seen stays open."""
    wheel = make(Kind.NOT_SEEN, zone="sill", side="left", reason="wheel in the way")
    top = make(Kind.NOT_SEEN, zone="sill", side="left", face="top", reason="trim")
    look = make(Kind.CLEAR, zone="sill", side="left", face="outboard")
    gaps = [
        gap for gap in inspect(wheel, top, look).gaps if (gap.zone, gap.side) == ("sill", "left")
    ]
    assert [(gap.face, gap.entry) for gap in gaps] == [("top", top.id)]


def test_not_seen_without_a_side_leaves_both_open(inspect: Inspect, make: Any) -> None:
    """Nobody knows which side it was."""
    lost = make(Kind.NOT_SEEN, zone="sill", reason="trim")
    gaps = [(g.side, g.reason) for g in inspect(lost).gaps if g.zone == "sill"]
    assert gaps == [("left", "trim"), ("right", "trim")]


def test_not_seen_on_one_side_says_nothing_of_the_other(inspect: Inspect, make: Any) -> None:
    """The reason belongs to the side that was said."""
    left = make(Kind.NOT_SEEN, zone="sill", side="left", reason="trim")
    gaps = [(g.side, g.reason) for g in inspect(left).gaps if g.zone == "sill"]
    assert gaps == [("left", "trim"), ("right", None)]


def test_mud_clears_nothing(inspect: Inspect, make: Any) -> None:
    """A place under mud was not looked at, unless the metal was reached; it is told once."""
    mud = make(zone="cab-mount", side="left", condition="debris")
    (gap,) = [g for g in inspect(mud).gaps if g.zone == "cab-mount" and g.side == "left"]
    assert (gap.why, gap.entry, gap.reason) == ("not-seen", mud.id, "mud or dirt in the way")
    firm = make(zone="cab-mount", side="left", condition="debris", probe="firm")
    assert at(inspect(firm), "cab-mount", "left").looked


def test_unproven_and_doubtful_entries_follow_the_places(inspect: Inspect, make: Any) -> None:
    """In the order of the log."""
    rust = make(zone="mid-rail", side="left", condition="surface-rust")
    unclear = make(zone="front-rail", side="left", condition="hole", doubts=("hole or mole",))
    gaps = inspect(rust, unclear).gaps[-2:]
    assert gaps == (
        Gap("mid-rail", "unproven", side="left", entry=rust.id),
        Gap("front-rail", "doubtful", side="left", entry=unclear.id, reason="hole or mole"),
    )


def test_a_fault_without_a_place_is_open(inspect: Inspect, make: Any) -> None:
    """It is listed under no zone; chatter that is merely unclear is not."""
    unplaced = make(Kind.REMARK, condition="hole", unplaced=True, doubts=("no place",))
    chatter = make(Kind.REMARK, doubts=("unclear",))
    gaps = [g for g in inspect(unplaced, chatter).gaps if g.why == "doubtful"]
    assert gaps == [Gap("unplaced", "doubtful", entry=unplaced.id, reason="no place")]


def test_a_zone_the_map_lacks_covers_nothing(inspect: Inspect, make: Any) -> None:
    """It breaks nothing either."""
    strange = inspect(make(Kind.CLEAR, zone="no-such-place"), make(zone="none", condition="hole"))
    assert not any(seen.looked for seen in strange.coverage.values())


@pytest.mark.parametrize("kind", [Kind.PHOTO, Kind.CLEAR])
def test_a_later_look_inside_settles_that_nobody_could(
    kind: Kind, inspect: Inspect, make: Any
) -> None:
    """By eye or by photo: the reason why not goes with the gap."""
    inside = {"zone": "kick-up", "side": "left", "face": "interior"}
    shut = make(Kind.NOT_SEEN, **inside, reason="plug rusted in")
    told = [gap for gap in inspect(shut).gaps if gap.zone == "kick-up" and gap.side == "left"]
    assert [(gap.why, gap.reason) for gap in told] == [
        ("not-seen", None),
        ("cavity-not-seen", "plug rusted in"),
    ]
    later = inspect(shut, make(kind, **inside))
    assert not [gap for gap in later.gaps if gap.entry == shut.id]
    assert ("left", "cavity-not-seen") not in why(later, "kick-up")
