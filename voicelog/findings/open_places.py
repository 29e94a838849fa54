"""Places at which something is still open, so gathered that each is told once."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from voicelog.domain.entry import Finding, Inspection, Seen
from voicelog.domain.slot import Slots
from voicelog.domain.zone import Rails, Zone, ZoneMap
from voicelog.findings.coverage import Place, places
from voicelog.tongue import joined, to_word, worded

_TOLD = {
    "not-seen": to_word("nobody looked at it"),
    "cavity-not-seen": to_word("nobody looked inside"),
    "not-probed": to_word("looked at, not probed"),
    "no-photo": to_word("no photo was claimed"),
}


@dataclass(frozen=True, slots=True)
class _Open:
    """One thing that is open at a place."""

    why: str
    face: str | None = None
    reason: str | None = None

    @property
    def told(self) -> str:
        """The same in words, with the inspector's reason where there is one."""
        words = worded(_TOLD[self.why])
        if self.why == "not-seen" and self.face == "interior":
            words = worded("its inside was not looked at")
        elif self.why == "not-seen" and self.face:
            words = worded("its {face} face was not looked at", face=self.face)
        return joined(": ", (words, self.reason)) if self.reason else words


@dataclass(frozen=True, slots=True)
class OpenPlace:
    """A zone, on one side or on both, and what is open there.

    Args:
        zone: its id.
        side: ``both`` where left and right are open alike; None where it comes once.
        why: what is open, each once: ``not-seen``, ``cavity-not-seen``, ``not-probed``, ``no-photo``.
        told: the same as sentences without their end, reasons as they were given.
    """

    zone: str
    side: str | None
    why: tuple[str, ...]
    told: tuple[str, ...]

    @property
    def slots(self) -> Slots:
        """The place as an entry would have it."""
        return {"zone": self.zone} | ({"side": self.side} if self.side else {})


def open_places(inspection: Inspection, zone_map: ZoneMap, rails: Rails) -> Iterator[OpenPlace]:
    """What is open at the places of the map, in its order, both sides together where they are alike.

    A photo is missing where a place that was seen, inside too, asks for one or hides a cavity, and
    none was claimed.

    Args:
        inspection: the log, folded.
        zone_map: its places.
        rails: how the vehicle's rails are made.
    """
    found: dict[Place, list[_Open]] = {place: [] for _, place in places(zone_map)}
    for gap in inspection.gaps:
        if gap.why in _TOLD and (gap.zone, gap.side) in found:
            found[gap.zone, gap.side].append(_Open(gap.why, gap.face, gap.reason))
    for zone, place in places(zone_map):
        if not _is_unseen(found[place]) and _lacks_photo(inspection.coverage, zone, place, rails):
            found[place].append(_Open("no-photo"))
    for zone in zone_map.zones.values():
        yield from _gathered(zone, found)


def open_entries(inspection: Inspection) -> Iterator[Finding]:
    """Entries without a grade that may be other than they look, or whose place nobody knows."""
    doubtful = {gap.entry for gap in inspection.gaps if gap.why == "doubtful"}
    return (one for one in inspection.live if one.entry.id in doubtful and one.grade is None)


def _is_unseen(found: Iterable[_Open]) -> bool:
    """True where nothing was there to be photographed yet; looking tells of photos too."""
    return any(one.why in ("not-seen", "cavity-not-seen") for one in found)


def _lacks_photo(coverage: Mapping[Place, Seen], zone: Zone, place: Place, rails: Rails) -> bool:
    asked = "photo" in zone.evidence or zone.hides_cavity(rails)
    return asked and not coverage[place].photo


def _gathered(zone: Zone, found: Mapping[Place, list[_Open]]) -> Iterator[OpenPlace]:
    """The zone's open sides, those that are open alike as one."""
    alike: dict[tuple[_Open, ...], list[str | None]] = {}
    for side in zone.sides():
        alike.setdefault(tuple(found[zone.id, side]), []).append(side)
    for what, sides in alike.items():
        if what:
            side = sides[0] if len(sides) == 1 else "both"
            why = tuple(dict.fromkeys(one.why for one in what))
            yield OpenPlace(zone.id, side, why, tuple(one.told for one in what))
