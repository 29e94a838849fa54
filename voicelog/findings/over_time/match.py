"""Which finding of the newer log is which of the older: the same place, the same course, nearest."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from voicelog.domain.slot import Slots
from voicelog.findings.facts_of import number
from voicelog.findings.over_time.assign import assign
from voicelog.findings.over_time.spots import Spot, by_zone

COURSES: tuple[tuple[tuple[str, ...], ...], ...] = (
    (
        ("staining", "rust-weep"), ("surface-rust",), ("scale", "delamination", "pack-rust"),
        ("pitting", "thinning"), ("soft-spot",), ("hole",),
    ),
    (("recoated", "oil-film"),),
    (("chipped-coating", "peeling-coating", "blistering"),),
    (("crack",),),
    (("deformation",),),
    (("old-repair", "filler"),),
    (("leak",),),
    (("seized-fixing", "wasted-fixing", "worn-hole", "missing-part"),),
    (("blocked-drain", "debris"),),
)  # fmt: skip
"""Conditions that one spot can go through, each course from its beginning to its end; common
practice, no source. A condition that stands in none is a course of its own."""

_STAGES = {
    name: (course, stage)
    for course, stages in enumerate(COURSES)
    for stage, names in enumerate(stages)
    for name in names
}

_SIDE, _ORDINAL, _NARROWED, _STAGE, _OTHER = 4000, 2000, 500, 1000, 200
_LANDMARK, _SIZE, _READING, _CLEAR = 900, 900, 300, 5000
_FINE = 1_000_000
"""What speaks against a pair, in parts of one stage; ours. Below all of it the order in which
things were said decides, so that equals pair in order."""


@dataclass(frozen=True, slots=True)
class Matched:
    """Spots of both logs: those that are the same, and those that are on one side only."""

    pairs: tuple[tuple[Spot, Spot], ...]
    only_older: tuple[Spot, ...]
    only_newer: tuple[Spot, ...]


def stage(slots: Slots) -> tuple[object, int]:
    """The course a finding is on, and how far along it is."""
    condition = slots.get("condition", "")
    return _STAGES.get(str(condition), (condition, 0))


def matched(older: Iterable[Spot], newer: Iterable[Spot]) -> Matched:
    """One to one, as many as can be the same, at the least sum of what speaks against it."""
    then, now = by_zone(older), by_zone(newer)
    pairs: list[tuple[Spot, Spot]] = []
    left: list[Spot] = []
    new: list[Spot] = []
    for zone in dict.fromkeys((*then, *now)):
        rows, columns = then.get(zone, []), now.get(zone, [])
        found = assign([_costs(row, spot, columns) for row, spot in enumerate(rows)])
        for spot, column in zip(rows, found, strict=True):
            if column is None:
                left.append(spot)
            else:
                pairs.append((spot, columns[column]))
        taken = set(found)
        new.extend(spot for column, spot in enumerate(columns) if column not in taken)
    return Matched(tuple(pairs), tuple(left), tuple(new))


def _costs(row: int, older: Spot, columns: Sequence[Spot]) -> list[int | None]:
    return [
        None if (cost := against(older, newer)) is None else cost * _FINE + (row - column) ** 2
        for column, newer in enumerate(columns)
    ]


def against(older: Spot, newer: Spot) -> int | None:
    """What speaks against two spots being the same; None where they cannot be. Symmetrical."""
    if not older.where.may_be(newer.where) or not _may_become(older, newer):
        return None
    return (
        _place(older, newer)
        + _condition(older, newer)
        + _landmark(older.slots, newer.slots)
        + _size(older.slots, newer.slots)
        + _reading(older.slots, newer.slots)
    )


def _may_become(older: Spot, newer: Spot) -> bool:
    """The same course; a thickness read where nothing was found goes with another reading only."""
    if older.is_finding and newer.is_finding:
        return stage(older.slots)[0] == stage(newer.slots)[0]
    return all(number(spot.slots, "thickness_mm") is not None for spot in (older, newer))


def _place(older: Spot, newer: Spot) -> int:
    """The price of everything about the place that was said of one of them only."""
    unsaid = [a != b for a, b in zip(older.where.narrowed, newer.where.narrowed, strict=True)]
    side = _SIDE * (older.where.side != newer.where.side)
    return side + _ORDINAL * unsaid[0] + _NARROWED * sum(unsaid[1:])


def _condition(older: Spot, newer: Spot) -> int:
    if older.is_finding != newer.is_finding:
        return _CLEAR
    if older.slots.get("condition") == newer.slots.get("condition"):
        return 0
    return _OTHER + _STAGE * abs(stage(older.slots)[1] - stage(newer.slots)[1])


def _landmark(older: Slots, newer: Slots) -> int:
    a, b = (str(slots.get("landmark", "")).casefold().split() for slots in (older, newer))
    if a == b:
        return 0
    return _LANDMARK if a and b else _LANDMARK // 3


def _size(older: Slots, newer: Slots) -> int:
    """By the ratio of the sizes: 10 mm and 20 mm are as far apart as 20 mm and 40 mm."""
    a, b = number(older, "size_mm"), number(newer, "size_mm")
    if a is None or b is None:
        return 0 if a is b else _SIZE // 4
    if a <= 0 or b <= 0:
        return 0 if a == b else _SIZE
    return min(_SIZE, round(abs(math.log(a / b)) * _SIZE / 3))


def _reading(older: Slots, newer: Slots) -> int:
    a, b = number(older, "thickness_mm"), number(newer, "thickness_mm")
    if a is None or b is None:
        return 0 if a is b else _READING // 2
    return min(_READING, round(abs(a - b) * 100))
