"""Evidence: which entries need a picture, and whether one was taken of their place."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from types import MappingProxyType

from voicelog.domain.entry import Entry, Finding, Kind
from voicelog.domain.grade import Grade
from voicelog.domain.zone import Rails, ZoneMap

Place = tuple[str, str | None]
"""A zone and a side; side None where the zone comes once."""
Shown = Mapping[str, int]
"""How many pictures show an entry, as :func:`voicelog.domain.photo.times_shown` counts them."""
NOTHING: Shown = MappingProxyType({})


def pictured(findings: Iterable[Finding], zone_map: ZoneMap) -> frozenset[Place]:
    """The places of which a picture was claimed, as coverage counts them."""
    return frozenset(
        place
        for finding in findings
        if finding.entry.kind is Kind.PHOTO and not finding.withdrawn
        for place in places_of(finding.entry, zone_map)
    )


def lacks_picture(
    finding: Finding,
    pictures: frozenset[Place],
    zone_map: ZoneMap,
    rails: Rails,
    shown: Shown = NOTHING,
) -> bool:
    """True for an entry that holds and needs a picture, while one of its places has none.

    What is unsafe needs one, and what was found inside a cavity, which nobody sees again without
    a camera (ours). Where the place or its side was not said, no picture can be of it.

    Args:
        finding: the entry.
        pictures: the places that have one, from :func:`pictured`.
        zone_map: the places.
        rails: how the rails are made; decides which places hide a cavity.
        shown: the entries that pictures in the log show.
    """
    wanted = needs_picture(finding, zone_map, rails)
    return wanted and not is_pictured(finding.entry, pictures, zone_map, shown)


def is_pictured(
    entry: Entry, pictures: frozenset[Place], zone_map: ZoneMap, shown: Shown = NOTHING
) -> bool:
    """True where every place that the entry speaks of has a claimed picture, or as many pictures in
    the log show the entry as it has places.
    """
    places = places_of(entry, zone_map)
    claimed = bool(places) and pictures.issuperset(places)
    return claimed or shown.get(entry.id, 0) >= max(1, len(places))


def needs_picture(finding: Finding, zone_map: ZoneMap, rails: Rails) -> bool:
    """True for a finding that holds and is unsafe, or lies inside a cavity."""
    if finding.withdrawn or finding.entry.kind is not Kind.FINDING:
        return False
    return finding.grade is Grade.UNSAFE or _is_inside(finding.entry, zone_map, rails)


def places_of(entry: Entry, zone_map: ZoneMap) -> tuple[Place, ...]:
    """The places an entry speaks of; none where the zone is a pair and the side was not said."""
    zone, side = zone_map.zones.get(str(entry.slots.get("zone", ""))), entry.slots.get("side")
    if zone is None:
        return ()
    return tuple((zone.id, one) for one in zone.sides() if one is None or side in (one, "both"))


def _is_inside(entry: Entry, zone_map: ZoneMap, rails: Rails) -> bool:
    zone = zone_map.zones.get(str(entry.slots.get("zone", "")))
    inside = entry.slots.get("face") == "interior" or entry.slots.get("method") == "scoped"
    return inside and zone is not None and zone.may_hide_cavity(rails)
