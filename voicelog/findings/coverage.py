"""Coverage: what was looked at, place by place, and what that leaves open."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field

from voicelog.domain.entry import Entry, Finding, Kind, Seen
from voicelog.domain.grade import Gap
from voicelog.domain.zone import Rails, Role, Zone, ZoneMap
from voicelog.findings.facts_of import known_zone
from voicelog.findings.places import UNPLACED
from voicelog.tongue import worded

Place = tuple[str, str | None]
"""A zone and a side; side None where the zone comes once."""

_TOUCHING = ("scraped", "probed", "gauged")


@dataclass(frozen=True, slots=True)
class Coverage:
    """What was looked at and what was not.

    Args:
        seen: every place of the map, in its order.
        gaps: the places of the map that are open, in its order; then the entries that are.
    """

    seen: Mapping[Place, Seen]
    gaps: tuple[Gap, ...]


@dataclass(slots=True)
class _Looks:
    """What the entries say of places, gathered one by one.

    ``excuses`` holds the not-seen (and mud) entries that no later look has settled, by place and
    face; face None stands for the whole place.
    """

    looked: set[Place] = field(default_factory=set)
    probed: set[Place] = field(default_factory=set)
    inside: set[Place] = field(default_factory=set)
    photo: set[Place] = field(default_factory=set)
    excuses: dict[tuple[Place, str | None], Entry] = field(default_factory=dict)


def cover(findings: Iterable[Finding], zone_map: ZoneMap, rails: Rails) -> Coverage:
    """What the live entries say was looked at.

    A doubtful entry proves nothing about probing or a cavity, and a doubtful *clear* is no look at
    all: it may have been another place. Mud in the way is no look either, unless the metal was
    probed. A finding at a place that comes in pairs counts for a side only if the side was said.

    Args:
        findings: every entry, withdrawn ones included, in order.
        zone_map: the places.
        rails: how the rails are made; decides which places hide a cavity.
    """
    live = [finding for finding in findings if not finding.withdrawn]
    looks = _Looks()
    for finding in live:
        _note(looks, finding.entry, zone_map, rails)
    seen = {place: _seen(looks, place, zone, rails) for zone, place in places(zone_map)}
    gaps = [
        gap
        for zone, place in places(zone_map)
        for gap in _place_gaps(looks, seen[place], place, zone, rails)
    ]
    told = {gap.entry for gap in gaps if gap.entry}
    return Coverage(seen, (*gaps, *_entry_gaps(live, told)))


def places(zone_map: ZoneMap) -> Iterator[tuple[Zone, Place]]:
    """Every place of the map that has to be looked at, in the order of the walk."""
    for zone in zone_map.zones.values():
        for side in zone.sides():
            yield zone, (zone.id, side)


def places_of(entry: Entry, zone: Zone) -> tuple[Place, ...]:
    """The places an entry speaks of; none where the zone is a pair and the side was not said."""
    side = entry.slots.get("side")
    return tuple((zone.id, s) for s in zone.sides() if s is None or side in (s, "both"))


def _note(looks: _Looks, entry: Entry, zone_map: ZoneMap, rails: Rails) -> None:
    """Take in one live entry."""
    zone = known_zone(entry.slots, zone_map)
    if zone is None:
        return
    if entry.kind is Kind.PHOTO:
        looks.photo.update(places_of(entry, zone))
        _note_inside(looks, entry, zone, rails)
    elif entry.kind is Kind.NOT_SEEN or _is_covered(entry):
        _note_excuse(looks, entry, zone)
    elif entry.kind is Kind.FINDING or (entry.kind is Kind.CLEAR and not entry.doubtful):
        _note_look(looks, entry, zone, rails)


def _is_covered(entry: Entry) -> bool:
    """True where mud or dirt kept the metal from being reached."""
    return entry.slots.get("condition") == "debris" and "probe" not in entry.slots


def _note_look(looks: _Looks, entry: Entry, zone: Zone, rails: Rails) -> None:
    where, face = places_of(entry, zone), entry.slots.get("face")
    looks.looked.update(where)
    if not entry.doubtful and _is_touched(entry):
        looks.probed.update(where)
    _note_inside(looks, entry, zone, rails)
    for place in where:
        looks.excuses.pop((place, None), None)
        looks.excuses.pop((place, face if isinstance(face, str) else None), None)


def _is_touched(entry: Entry) -> bool:
    return "probe" in entry.slots or entry.slots.get("method") in _TOUCHING


def _note_inside(looks: _Looks, entry: Entry, zone: Zone, rails: Rails) -> None:
    """A look inside counts where there is an inside to look at, by eye, camera or photo."""
    inside = entry.slots.get("face") == "interior" or entry.slots.get("method") == "scoped"
    if inside and not entry.doubtful and zone.may_hide_cavity(rails):
        looks.inside.update(places_of(entry, zone))
        for place in places_of(entry, zone):
            looks.excuses.pop((place, "interior"), None)


def _note_excuse(looks: _Looks, entry: Entry, zone: Zone) -> None:
    """A place that could not be looked at; where the side was not said, either side may be."""
    face = entry.slots.get("face")
    for place in places_of(entry, zone) or [(zone.id, side) for side in zone.sides()]:
        looks.excuses[place, face if isinstance(face, str) else None] = entry


def _seen(looks: _Looks, place: Place, zone: Zone, rails: Rails) -> Seen:
    inside = place in looks.inside
    return Seen(
        looked=place in looks.looked,
        probed=place in looks.probed,
        inside=inside if inside or zone.hides_cavity(rails) else None,
        photo=place in looks.photo,
    )


def _place_gaps(looks: _Looks, seen: Seen, place: Place, zone: Zone, rails: Rails) -> Iterator[Gap]:
    """What is open at one place: not looked at, a face not seen, its cavity, not probed."""
    excuses = {face: e for (where, face), e in looks.excuses.items() if where == place}
    cavity_excuse = excuses.pop("interior", None) if zone.may_hide_cavity(rails) else None
    if not seen.looked and None not in excuses:
        yield _gap(place, "not-seen", None, None)
    for face, entry in excuses.items():
        yield _gap(place, "not-seen", face, entry)
    if seen.inside is False or cavity_excuse is not None:
        yield _gap(place, "cavity-not-seen", "interior", cavity_excuse)
    if zone.role is Role.CRITICAL and seen.looked and not seen.probed:
        yield _gap(place, "not-probed", None, None)


def _gap(place: Place, why: str, face: str | None, entry: Entry | None) -> Gap:
    if entry is None:
        return Gap(place[0], why, side=place[1], face=face)
    reason = entry.reason or (worded("mud or dirt in the way") if _is_covered(entry) else None)
    return Gap(place[0], why, side=place[1], face=face, entry=entry.id, reason=reason)


def _entry_gaps(live: Iterable[Finding], told: set[str]) -> Iterator[Gap]:
    """Entries that may be worse, or other, than they look, unless a place's gap names them."""
    for finding in live:
        entry = finding.entry
        if finding.unproven and entry.id not in told:
            yield _entry_gap(entry, "unproven", None)
        if (entry.doubtful and entry.kind is not Kind.REMARK) or entry.unplaced:
            yield _entry_gap(entry, "doubtful", "; ".join(entry.doubts) or None)


def _entry_gap(entry: Entry, why: str, reason: str | None) -> Gap:
    zone, side, face = (entry.slots.get(name) for name in ("zone", "side", "face"))
    return Gap(
        zone=str(zone) if zone else UNPLACED,
        why=why,
        side=str(side) if side else None,
        face=str(face) if face else None,
        entry=entry.id,
        reason=reason,
    )
