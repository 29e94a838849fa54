"""Orders at the bench: by time, along the map, the worst first."""

from __future__ import annotations

from typing import Any

from voicelog.domain.entry import Entry, Finding, Kind
from voicelog.domain.grade import Grade
from voicelog.domain.zone import Layout, Role, Zone, ZoneMap
from voicelog.review.order import Order, sorted_by

ZONES = ("rear-rail", "front-rail")
MAP = ZoneMap(
    "small",
    "Small",
    {name: Zone(name, name, Role.LOAD_PATH, Layout.PAIR) for name in ZONES},
)


def _found(name: str, grade: Grade | None = None, **more: Any) -> Finding:
    slots: dict[str, Any] = {
        key: more.pop(key) for key in ("zone", "side", "ordinal") if key in more
    }
    withdrawn, at = more.pop("withdrawn", False), more.pop("at", "2026-03-14T09:05:30.250Z")
    kind = Kind.FINDING if grade else Kind.CLEAR
    return Finding(Entry(name, "u2", at, kind, slots, **more), grade=grade, withdrawn=withdrawn)


def _sorted(order: Order, *findings: Finding) -> str:
    return " ".join(finding.entry.id for finding in sorted_by(findings, order, MAP))


def test_by_time_an_entry_split_off_later_stands_beside_its_sentence() -> None:
    """Its id is new, its time is that of the utterance."""
    early, late = "2026-03-14T09:05:30.250Z", "2026-03-14T09:06:00.000Z"
    found = (_found("a", at=late), _found("b", at=early), _found("c", at=late))
    assert _sorted(Order.TIME, *found) == "b a c"


def test_by_zone_they_follow_the_map_then_sides_then_ordinals() -> None:
    """Unplaced ones, and zones that the map does not have, come last."""
    found = (
        _found("a"),
        _found("b", zone="front-rail"),
        _found("c", zone="front-rail", side="right"),
        _found("d", zone="front-rail", side="left", ordinal=2),
        _found("e", zone="front-rail", side="left", ordinal=1),
        _found("f", zone="rear-rail", side="right"),
        _found("g", zone="roof-rack"),
    )
    assert _sorted(Order.ZONE, *found) == "f e d c b a g"


def test_by_grade_the_worst_come_first_then_what_is_doubtful() -> None:
    """Within a grade the doubtful one first; what was withdrawn counts for nothing."""
    found = (
        _found("a"),
        _found("b", doubts=("which side",)),
        _found("c", Grade.COSMETIC),
        _found("d", Grade.UNSAFE, withdrawn=True),
        _found("e", Grade.UNSAFE),
        _found("f", Grade.UNSAFE, doubts=("which side",)),
        _found("g", Grade.REPAIR),
    )
    assert _sorted(Order.GRADE, *found) == "f e g c b a d"
