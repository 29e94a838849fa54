"""What still lacks its picture: unsafe findings, and the inside of every place that hides metal."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from voicelog.domain.entry import Entry, Finding, Inspection, Kind
from voicelog.domain.grade import Grade
from voicelog.domain.photo import Lack, Photo, times_shown
from voicelog.domain.zone import Rails, Zone, ZoneMap
from voicelog.findings.coverage import Place, places, places_of
from voicelog.findings.facts_of import known_zone
from voicelog.findings.places import UNPLACED, place_in_words
from voicelog.findings.wording import condition_in_words
from voicelog.tongue import begun, worded


@dataclass(frozen=True, slots=True)
class _Case:
    """What is there: claims that hold, and entries that pictures show."""

    zone_map: ZoneMap
    claims: tuple[Entry, ...]
    shown: tuple[Entry, ...]
    times: dict[str, int]

    def places(self, entries: Iterable[Entry], *, inside: bool) -> frozenset[Place]:
        """The places that entries speak of; with ``inside`` only those whose inside they are of."""
        return frozenset(
            place
            for entry in entries
            if (zone := known_zone(entry.slots, self.zone_map)) is not None
            and (not inside or _is_inside(entry))
            for place in places_of(entry, zone)
        )


def lacking(
    inspection: Inspection, photos: Iterable[Photo], zone_map: ZoneMap, rails: Rails
) -> tuple[Lack, ...]:
    """The pictures that are missing: of what is unsafe first, then of cavities, in the walk's order.

    A picture in the log counts for the entries it was matched to, for a cavity only if one of them
    is of its inside. A claim alone leaves its picture lacking; the sentence says that somebody
    took one. That a cavity needs a picture of its own is ours: nobody sees it again without a camera.

    Args:
        inspection: the log, folded.
        photos: that lie in it.
        zone_map: its places.
        rails: how the rails are made; decides which places hide a cavity.
    """
    times = times_shown(photos)
    live = [finding.entry for finding in inspection.live]
    claims = tuple(entry for entry in live if entry.kind is Kind.PHOTO)
    case = _Case(zone_map, claims, tuple(e for e in live if times[e.id]), times)
    return (*_unsafe(inspection.live, case), *_cavities(inspection, case, rails))


def _unsafe(findings: Iterable[Finding], case: _Case) -> Iterator[Lack]:
    claimed = case.places(case.claims, inside=False)
    for finding in findings:
        entry = finding.entry
        zone = known_zone(entry.slots, case.zone_map)
        where = places_of(entry, zone) if zone is not None else ()
        if finding.grade is Grade.UNSAFE and case.times.get(entry.id, 0) < max(1, len(where)):
            said = bool(where) and claimed.issuperset(where)
            side = entry.slots.get("side")
            yield Lack(
                zone.id if zone is not None else UNPLACED,
                str(side) if side is not None else None,
                _unsafe_text(entry, said, case.zone_map),
                "unsafe", entry.id, said,
            )  # fmt: skip


def _unsafe_text(entry: Entry, claimed: bool, zone_map: ZoneMap) -> str:
    place = begun(place_in_words(entry.slots, zone_map))
    fault = condition_in_words(entry) or worded("a fault not named")
    if claimed:
        return worded(
            "{place}: {fault} is unsafe, and a photo was announced, but none is matched ({entry})",
            place=place,
            fault=fault,
            entry=entry.id,
        )
    return worded(
        "{place}: {fault} is unsafe, and there is no photo of it ({entry})",
        place=place,
        fault=fault,
        entry=entry.id,
    )


def _cavities(inspection: Inspection, case: _Case, rails: Rails) -> Iterator[Lack]:
    shown = case.places(case.shown, inside=True)
    claimed = case.places(case.claims, inside=True)
    for zone, place in places(case.zone_map):
        if _wants_inside(inspection, zone, place, rails) and place not in shown:
            text = _cavity_text(inspection, zone, place, place in claimed, case.zone_map)
            yield Lack(zone.id, place[1], text, claimed=place in claimed)


def _wants_inside(inspection: Inspection, zone: Zone, place: Place, rails: Rails) -> bool:
    seen = inspection.coverage.get(place)
    hides = zone.hides_cavity(rails) or (seen is not None and seen.inside is True)
    return hides or ("photo" in zone.evidence and zone.may_hide_cavity(rails))


def _cavity_text(
    inspection: Inspection, zone: Zone, place: Place, claimed: bool, zone_map: ZoneMap
) -> str:
    slots = {"zone": zone.id} | ({"side": place[1]} if place[1] else {})
    where = begun(place_in_words(slots, zone_map))
    seen = inspection.coverage.get(place)
    if claimed:
        return worded(
            "{place}: a photo of its inside was announced, but none is matched", place=where
        )
    if seen is not None and seen.inside:
        return worded("{place}: its inside was seen, and there is no photo of it", place=where)
    return worded("{place}: nobody has seen its inside, and there is no photo of it", place=where)


def _is_inside(entry: Entry) -> bool:
    return entry.slots.get("face") == "interior" or entry.slots.get("method") == "scoped"
