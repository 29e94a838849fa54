"""What a report is made of, and what all of its parts look up: numbers, places, who confirmed what."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from functools import cached_property

from voicelog.domain.advice import Advice, Pointer
from voicelog.domain.comparison import Comparison
from voicelog.domain.entry import Entry, Finding, Inspection
from voicelog.domain.fact import Fact
from voicelog.domain.grade import RuleSet
from voicelog.domain.photo import Lack, Photo
from voicelog.domain.slot import Slots
from voicelog.domain.vehicle import Vehicle
from voicelog.domain.zone import Rails, Zone, ZoneMap
from voicelog.findings.coverage import Coverage, places_of
from voicelog.findings.drive import DO_NOT_DRIVE, drive
from voicelog.findings.facts_of import known_zone
from voicelog.findings.lacking import lacking
from voicelog.findings.places import place_in_words
from voicelog.findings.softened import softened
from voicelog.findings.tasks import Task, tasks_of
from voicelog.report.confirming import confirmed
from voicelog.report.ranking import ranked
from voicelog.report.wording import entries_of, listed, opening, raised
from voicelog.tongue import worded_many

Place = tuple[str, str | None]
"""A zone and a side; side None where the zone comes once."""


def no_picture(_: Photo) -> bytes:
    """Stands in where pictures cannot be read: a report without them."""
    return b""


@dataclass(frozen=True, slots=True)
class Material:
    """All that a report is put together from; nothing here is read from disk any more.

    Args:
        facts: the log's lines, in order.
        inspection: the same, folded.
        zone_map: its places.
        rules: the severity table that graded it.
        rails: how the vehicle's rails are made.
        driver_side: ``left`` or ``right``; None where nobody said.
        vehicle: what it is, how it stood, what was refused.
        photos: beside the log.
        jpeg: a picture in the size of a page, as JPEG; empty bytes where there is none.
        comparison: with an earlier inspection.
        advice: what follows from the inspection.
        pointers: public rules to look up, by entry.
        histories: what happened to entries, as sentences, by entry.
        last_sha256: hash of the log's last line, its seal.
        made_at: when the report is made, RFC 3339; empty to leave that out.
    """

    facts: Sequence[Fact]
    inspection: Inspection
    zone_map: ZoneMap
    rules: RuleSet
    rails: Rails = Rails.MIXED
    driver_side: str | None = None
    vehicle: Vehicle = field(default_factory=Vehicle)
    photos: tuple[Photo, ...] = ()
    jpeg: Callable[[Photo], bytes] = no_picture
    comparison: Comparison | None = None
    advice: Advice = field(default_factory=Advice)
    pointers: Mapping[str, tuple[Pointer, ...]] = field(default_factory=dict)
    histories: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    last_sha256: str = ""
    made_at: str = ""


@dataclass(frozen=True, slots=True)
class Driving:
    """Whether it may be moved, and the reasons; each ends with the ids of its entries."""

    drive: str
    reasons: tuple[str, ...]


def _driven(material: Material, tasks: Sequence[Task]) -> Driving:
    inspection = material.inspection
    coverage = Coverage(inspection.coverage, inspection.gaps)
    place = material.zone_map, material.rails
    return Driving(*drive(inspection.live, tasks, coverage, *place, inspection.lost))


class Book:
    """The material with what every part of the report asks of it, worked out once.

    Args:
        material: what the report is made of.
    """

    def __init__(self, material: Material) -> None:
        self.material = material
        self.opened = opening(material.facts)
        live, limits = material.inspection.live, material.rules.limits
        self.tasks = tuple(tasks_of(live, material.zone_map, limits))
        self.answer = _driven(material, self.tasks)
        forbids = self.answer.drive == DO_NOT_DRIVE
        self.against = entries_of(self.answer.reasons) if forbids else frozenset()
        self.findings = ranked(live, material.zone_map, self.against)
        self.numbers = {finding.entry.id: n for n, finding in enumerate(self.findings, 1)}

    @cached_property
    def confirmed(self) -> frozenset[str]:
        """Ids of the entries that a person has confirmed or corrected."""
        return confirmed(self.material.facts)

    @cached_property
    def softened(self) -> Mapping[str, Entry]:
        """Entries that were unsafe and on which nobody has decided since, each as it stood then."""
        m = self.material
        return softened(m.facts, m.inspection.findings, m.zone_map, m.rules)

    @cached_property
    def lacks(self) -> tuple[Lack, ...]:
        """The pictures that are missing."""
        m = self.material
        return lacking(m.inspection, m.photos, m.zone_map, m.rails)

    @cached_property
    def lack_of(self) -> Mapping[str, Lack]:
        """Entry to the first of the pictures that it misses."""
        return {lack.entry: lack for lack in reversed(self.lacks) if lack.entry}

    @cached_property
    def entries(self) -> Mapping[str, Entry]:
        """The entries that hold, by their ids."""
        return {finding.entry.id: finding.entry for finding in self.material.inspection.live}

    @cached_property
    def jpegs(self) -> Mapping[str, bytes]:
        """The pictures by file, each read once however often it is shown."""
        return {photo.file: self.material.jpeg(photo) for photo in self.material.photos}

    def zone(self, slots: Slots) -> Zone | None:
        """The zone that the slots name, if the map has it."""
        return known_zone(slots, self.material.zone_map)

    def place(self, slots: Slots) -> str:
        """A place in plain words, as a sentence begins."""
        return raised(place_in_words(slots, self.material.zone_map))

    def place_of(self, zone: str, side: str | None) -> str:
        """The same of a zone and a side."""
        named = {"zone": zone} if side is None else {"zone": zone, "side": side}
        comes_once = side is None and zone in self.material.zone_map
        if comes_once:
            return raised(self.material.zone_map[zone].title)
        return self.place({} if zone == "unplaced" else named)

    def places(self, entry: Entry) -> tuple[Place, ...]:
        """Where an entry is drawn; one that no map has where its place or side is not known."""
        zone = self.zone(entry.slots)
        if zone is None:
            return ((str(entry.slots.get("zone", "unplaced")), None),)
        return places_of(entry, zone) or ((zone.id, None),)

    def numbered(self, entries: Iterable[str]) -> str:
        """Entries by their numbers, for example ``findings 1, 4``; empty where none has one, and
        counted from the thirteenth on.
        """
        found = sorted({self.numbers[entry] for entry in entries if entry in self.numbers})
        if not found:
            return ""
        numbers = listed([str(number) for number in found], 12)
        return worded_many("finding {numbers}", "findings {numbers}", len(found), numbers=numbers)

    def photos_of(self, finding: Finding) -> tuple[Photo, ...]:
        """The pictures that show an entry and can be shown."""
        return tuple(self._shown.get(finding.entry.id, ()))

    @cached_property
    def _shown(self) -> Mapping[str, list[Photo]]:
        shown: dict[str, list[Photo]] = {}
        for photo in self.material.photos:
            for entry in dict.fromkeys(photo.entries) if self.jpegs[photo.file] else ():
                shown.setdefault(entry, []).append(photo)
        return shown
