"""What two inspections are compared by: spots that something was said of, and looks at places."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import Protocol, TypeVar

from voicelog.domain.comparison import Inspected
from voicelog.domain.entry import Entry, Finding, Inspection, Kind
from voicelog.domain.slot import Slots
from voicelog.domain.zone import Layout, Zone, ZoneMap
from voicelog.findings.coverage import cover
from voicelog.findings.facts_of import known_zone, number
from voicelog.findings.places import UNPLACED

_NARROWING = ("ordinal", "face", "part")
"""Slots that single out a part of a place."""


@dataclass(frozen=True, slots=True)
class Where:
    """A spot on the vehicle.

    Args:
        zone: id, or :data:`~voicelog.findings.places.UNPLACED`.
        side: None where the zone comes once, or nobody said.
        inside: the inside of a box or pocket, which is a place of its own.
        narrowed: number, face and part, each None where nobody said.
    """

    zone: str
    side: str | None
    inside: bool
    narrowed: tuple[object, ...]

    def may_be(self, other: Where) -> bool:
        """True unless something said of both keeps them apart."""
        if self.zone != other.zone or self.inside != other.inside:
            return False
        if self.side != other.side and self.side is not None and other.side is not None:
            return False
        parts = zip(self.narrowed, other.narrowed, strict=True)
        return all(a is None or b is None or a == b for a, b in parts)

    def covers(self, other: Where) -> bool:
        """True for the same place, told no more narrowly; the side is another matter."""
        if self.zone != other.zone or self.inside != other.inside:
            return False
        parts = zip(self.narrowed, other.narrowed, strict=True)
        return all(a is None or a == b for a, b in parts)


@dataclass(frozen=True, slots=True)
class Spot:
    """A finding, or a thickness read where nothing was found, at one side of the vehicle."""

    finding: Finding
    where: Where

    @property
    def slots(self) -> Slots:
        """What is known of it."""
        return self.finding.entry.slots

    @property
    def is_finding(self) -> bool:
        """False for a thickness read where nothing was found."""
        return self.finding.entry.kind is Kind.FINDING


@dataclass(frozen=True, slots=True)
class Look:
    """An entry as a look at a place: what it takes in, and whether the metal was touched."""

    finding: Finding
    where: Where
    touched: bool

    @property
    def proves_clear(self) -> bool:
        """True where somebody touched the metal and found nothing."""
        return self.touched and self.finding.entry.kind is Kind.CLEAR


class Placed(Protocol):
    """Something that lies somewhere."""

    @property
    def where(self) -> Where:
        """The spot."""


One = TypeVar("One", bound=Placed)


def by_zone(them: Iterable[One]) -> Mapping[str, list[One]]:
    """The same, zone by zone, in order; a zone that has none has an empty list."""
    zones: defaultdict[str, list[One]] = defaultdict(list)
    for one in them:
        zones[one.where.zone].append(one)
    return zones


def spots(inspection: Inspection) -> tuple[Spot, ...]:
    """Every finding that holds, in order, one spot for each side of *both*; and every thickness read
    where nothing was found, for a rate needs two readings.
    """
    return tuple(
        Spot(finding, where)
        for finding in inspection.live
        if finding.entry.kind is Kind.FINDING or _is_reading(finding.entry)
        for where in _wheres(finding.entry)
    )


def _is_reading(entry: Entry) -> bool:
    return (
        entry.kind is Kind.CLEAR
        and not entry.doubtful
        and number(entry.slots, "thickness_mm") is not None
    )


def _wheres(entry: Entry) -> Iterator[Where]:
    side = entry.slots.get("side")
    for one in ("left", "right") if side == "both" else (None if side is None else str(side),):
        yield _where(entry.slots, one)


def _where(slots: Slots, side: str | None) -> Where:
    inside = slots.get("face") == "interior" or slots.get("method") == "scoped"
    narrowed = tuple(
        None if inside and name == "face" else slots.get(name) for name in _NARROWING
    )  # a camera is inside whether or not somebody says so
    return Where(str(slots.get("zone") or UNPLACED), side, inside, narrowed)


def looks(inspected: Inspected) -> tuple[Look, ...]:
    """What was looked at, entry by entry, by the rules of coverage: mud in the way is no look, nor is
    a *clear* that may have been misheard.
    """
    return tuple(
        look for finding in inspected.inspection.live for look in _looks_of(finding, inspected)
    )


def _looks_of(finding: Finding, inspected: Inspected) -> Iterator[Look]:
    entry = finding.entry
    zone = known_zone(entry.slots, inspected.zone_map)
    if zone is None:
        return
    alone = ZoneMap(inspected.zone_map.id, "", {zone.id: zone})
    for (_, side), seen in cover((finding,), alone, inspected.rails).seen.items():
        where = _where(entry.slots, side or _said(entry))
        if seen.looked and not (where.inside and entry.doubtful):
            yield Look(finding, where, seen.probed and entry.slots.get("certainty") != "tentative")


def _said(entry: Entry) -> str | None:
    """The side said of a zone that comes once; None takes in all of it."""
    side = entry.slots.get("side")
    return None if side in (None, "both") else str(side)


def looks_at(where: Where, them: Iterable[Look], zone_map: ZoneMap) -> tuple[Look, ...]:
    """The looks that took a spot in; none unless they did on every side on which it may be."""
    fitting = [look for look in them if look.where.covers(where)]
    by_side = [
        [look for look in fitting if look.where.side in (None, side)]
        for side in _sides(where, zone_map.zones.get(where.zone))
    ]
    if not all(by_side):
        return ()
    return tuple(look for found in by_side for look in found)


def _sides(where: Where, zone: Zone | None) -> tuple[str | None, ...]:
    """The sides that have to be looked at before a spot was."""
    if zone is not None and zone.layout is Layout.PAIR and where.side not in zone.sides():
        return zone.sides()
    return (where.side,)
