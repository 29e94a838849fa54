"""In which order entries are shown."""

from __future__ import annotations

from collections.abc import Iterable
from enum import StrEnum
from typing import Any

from voicelog.domain.entry import Finding
from voicelog.domain.slot import SIDES
from voicelog.domain.zone import ZoneMap


class Order(StrEnum):
    """What entries are sorted by.

    ``time``: when they were said. ``zone``: along the map, unplaced ones last. ``grade``: the worst
    first, then what is doubtful, then the rest; what was withdrawn comes last.
    """

    TIME = "time"
    ZONE = "zone"
    GRADE = "grade"


def sorted_by(findings: Iterable[Finding], order: Order, zone_map: ZoneMap) -> tuple[Finding, ...]:
    """The entries in an order; those that it holds for equal stay as they were."""
    if order is Order.TIME:
        return tuple(sorted(findings, key=lambda finding: str(finding.entry.at)))
    if order is Order.GRADE:
        return tuple(sorted(findings, key=_how_bad))
    walk = {name: number for number, name in enumerate(zone_map.zones)}
    return tuple(sorted(findings, key=lambda finding: _where(finding, walk)))


def _how_bad(finding: Finding) -> tuple[bool, int, bool]:
    rank = -1 if finding.grade is None else finding.grade.rank
    return finding.withdrawn, -rank, not (finding.entry.doubtful or finding.entry.unplaced)


def _where(finding: Finding, walk: dict[str, int]) -> tuple[int, int, float]:
    """The zone's number along the map, then its side, then which of several alike."""
    slots: Any = finding.entry.slots
    zone, side, ordinal = slots.get("zone"), slots.get("side"), slots.get("ordinal", 0)
    return (
        walk.get(str(zone), len(walk)),
        SIDES.index(side) if side in SIDES else len(SIDES),
        ordinal if isinstance(ordinal, int | float) else 0,
    )
