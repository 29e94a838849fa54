"""What still lacks its picture."""

from __future__ import annotations

from typing import Any

from voicelog.domain.entry import Entry, Finding, Inspection, Kind
from voicelog.domain.grade import Grade, Verdict
from voicelog.domain.photo import Lack, Photo
from voicelog.domain.zone import Cavity, Layout, Rails, Role, Zone, ZoneMap
from voicelog.findings.coverage import cover
from voicelog.findings.lacking import lacking

MAP = ZoneMap(
    "small",
    "Small",
    {
        "pocket": Zone("pocket", "Arm pocket", Role.CRITICAL, Layout.ONE, Cavity.ALWAYS, evidence=("photo",)),
        "rail": Zone("rail", "Rail", Role.LOAD_PATH, Layout.PAIR, Cavity.IF_BOXED),
        "skin": Zone("skin", "Skin", Role.PANEL, Layout.ONE),
    },
)  # fmt: skip
HOLE = {"zone": "rail", "side": "left", "condition": "hole"}


def _said(
    n: int, kind: Kind = Kind.FINDING, *, grade: Grade | None = None, **slots: Any
) -> Finding:
    at = f"2026-03-14T09:05:{n:02}Z"
    return Finding(Entry(f"e{n}.1", f"u{n}", at, kind, slots), grade=grade)


def _lacking(
    *findings: Finding, photos: tuple[Photo, ...] = (), rails: Rails = Rails.OPEN
) -> tuple[Lack, ...]:
    seen = cover(findings, MAP, rails)
    verdict = Verdict("not-enough-seen", "none", "fair", seen.gaps)
    return lacking(Inspection(findings, seen.seen, seen.gaps, verdict), photos, MAP, rails)


def _photo(*entries: str) -> Photo:
    return Photo(9, "photos/p9.jpg", "a" * 64, "a.jpg", entries)


def _texts(lacks: tuple[Lack, ...]) -> list[str]:
    return [lack.text for lack in lacks]


def test_a_cavity_nobody_saw_lacks_its_picture() -> None:
    """Rails that are open hide nothing."""
    [lack] = _lacking()
    told = "Arm pocket: nobody has seen its inside, and there is no photo of it"
    assert lack == Lack("pocket", None, told)


def test_boxed_rails_hide_a_cavity_on_each_side() -> None:
    """As coverage counts them; mixed ones only where somebody looked inside."""
    assert [(lack.zone, lack.side) for lack in _lacking(rails=Rails.BOXED)] == [
        ("pocket", None), ("rail", "left"), ("rail", "right"),
    ]  # fmt: skip
    inside = _said(1, zone="rail", side="right", condition="scale", face="interior")
    found = _lacking(inside, rails=Rails.MIXED)
    assert [(lack.zone, lack.side) for lack in found] == [("pocket", None), ("rail", "right")]
    assert found[1].text == "Right rail: its inside was seen, and there is no photo of it"


def test_a_claim_alone_still_lacks_its_picture() -> None:
    """And the sentence says that somebody announced one."""
    [lack] = _lacking(_said(1, Kind.PHOTO, zone="pocket", face="interior"))
    assert lack.claimed
    assert lack.text == "Arm pocket: a photo of its inside was announced, but none is matched"


def test_a_picture_of_the_inside_settles_it() -> None:
    """One of the outside does not."""
    inside = _said(1, Kind.PHOTO, zone="pocket", face="interior")
    outside = _said(2, zone="pocket", condition="scale", face="bottom")
    assert _lacking(inside, outside, photos=(_photo("e1.1"),)) == ()
    assert len(_lacking(inside, outside, photos=(_photo("e2.1"),))) == 1


def test_what_is_unsafe_lacks_a_picture_until_one_shows_it() -> None:
    """It comes before the cavities."""
    crack = _said(1, grade=Grade.UNSAFE, **HOLE)
    first, second = _lacking(crack)
    assert first == Lack(
        "rail", "left", "Left rail: hole is unsafe, and there is no photo of it (e1.1)",
        "unsafe", "e1.1",
    )  # fmt: skip
    assert second.what == "cavity"
    assert [lack.what for lack in _lacking(crack, photos=(_photo("e1.1"),))] == ["cavity"]


def test_a_claim_for_something_unsafe_is_told() -> None:
    """A claim at its place is no picture of it."""
    claim = _said(2, Kind.PHOTO, zone="rail", side="left")
    lack = _lacking(_said(1, grade=Grade.UNSAFE, **HOLE), claim)[0]
    assert lack.claimed
    assert lack.text.endswith("a photo was announced, but none is matched (e1.1)")


def test_a_finding_on_both_sides_needs_two_pictures() -> None:
    """One picture shows one side."""
    both = _said(1, grade=Grade.UNSAFE, **{**HOLE, "side": "both"})
    assert _lacking(both, photos=(_photo("e1.1"),))[0].what == "unsafe"
    assert _lacking(both, photos=(_photo("e1.1"), _photo("e1.1")))[0].what == "cavity"


def test_an_unsafe_finding_without_a_place_is_told_too() -> None:
    """Its picture is wanted all the more."""
    lack = _lacking(_said(1, grade=Grade.UNSAFE, condition="crack"))[0]
    assert (lack.zone, lack.side) == ("unplaced", None)


def test_what_was_withdrawn_lacks_nothing() -> None:
    """Nor does its claim count."""
    crack = Finding(_said(1, **HOLE).entry, grade=Grade.UNSAFE, withdrawn=True)
    assert [lack.what for lack in _lacking(crack)] == ["cavity"]
    assert _texts(_lacking(crack)) == _texts(_lacking())
