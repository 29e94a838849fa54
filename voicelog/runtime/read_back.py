"""Entries as a voice says them: short, the side always in it, nothing softened."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping

from voicelog.domain.entry import Entry, Finding, Inspection, Kind
from voicelog.domain.grade import Grade
from voicelog.domain.inert import inert
from voicelog.domain.slot import SPELT_SLOTS, Slots
from voicelog.domain.zone import ZoneMap
from voicelog.findings.facts_of import known_zone
from voicelog.findings.grading import worst_said
from voicelog.findings.places import place_in_words
from voicelog.findings.wording import SPELT, condition_in_words
from voicelog.runtime.numbers_aloud import measures, spelled_out

_BAD_PROBES: Mapping[object, str] = {
    "dents": "dents under the probe",
    "dull": "sounds dull under the probe",
    "moves": "moves under the probe",
    "soft": "gives under the probe",
    "through": "the probe went through",
}
_UNITS = {"mi": "miles", "km": "kilometres"}
LONGEST = 80
"""Characters of a person's own words that are said back."""


def read_back(finding: Finding, zone_map: ZoneMap) -> str:
    """An entry in one breath: ``left rear rail, inside: hole, 35 millimetres, unsafe``.

    Place, condition, main measure, a probe that failed, the grade where it is repair or unsafe (the
    worse of computed and said), and whether it is doubtful.

    Args:
        finding: as it stands now.
        zone_map: titles of the zones.
    """
    entry = finding.entry
    if entry.kind is Kind.REMARK:
        said = [_remark(entry)]
    else:
        said = [f"{place(entry.slots, zone_map)}: {_what(entry)}", *_details(entry)]
    return ", ".join((*said, *_limits(finding)))


def in_short(entry: Entry, zone_map: ZoneMap, slots: Slots | None = None) -> str:
    """Place, condition and main measure only: ``left rear rail, hole, 35 millimetres``.

    Args:
        entry: as it stands now.
        zone_map: titles of the zones.
        slots: what else it may be; the entry's own where not given.
    """
    if entry.kind is Kind.REMARK:
        return _remark(entry)
    if slots is not None:
        entry = Entry(entry.id, entry.utterance, entry.at, entry.kind, slots)
    return ", ".join((place(entry.slots, zone_map), _what(entry), *measures(entry)))


def changed(finding: Finding, zone_map: ZoneMap) -> str:
    """An entry that was put right, and what it was called before."""
    before = f", before: {_before(finding)}" if is_renamed(finding) else ""
    return f"changed: {read_back(finding, zone_map)}{before}"


def is_renamed(finding: Finding) -> bool:
    """Its last change made something else of it than it was called before."""
    return bool(finding.history) and _before(finding) != _what(finding.entry)


def withdrawn(finding: Finding, zone_map: ZoneMap) -> str:
    """An entry that was taken back."""
    return f"withdrawn: {in_short(finding.entry, zone_map)}"


def zone_read_back(inspection: Inspection, here: Slots, zone_map: ZoneMap, most: int = 5) -> str:
    """What was said of the current zone, the worst first, of equals the newest.

    Args:
        inspection: as it stands now.
        here: the current place.
        zone_map: titles of the zones.
        most: entries to say; the others are counted.
    """
    zone = here.get("zone")
    if zone is None:
        return "no place is known; say where you are"
    there = [f for f in inspection.live if f.entry.slots.get("zone") == zone]
    there = sorted((f for f in there if f.entry.kind is not Kind.REMARK), key=severity)
    if not there:
        return f"{zone_title(str(zone), zone_map)}: nothing said yet"
    return some((read_back(finding, zone_map) for finding in reversed(there)), len(there), most)


def severity(finding: Finding) -> int:
    """How bad it is by the worse of computed and said, to sort by; -1 where it has no grade."""
    worst = worst_said(finding)
    return -1 if worst is None else worst.rank


def some(sentences: Iterable[str], count: int, most: int) -> str:
    """As many sentences as are allowed, and how many more there are."""
    told = [sentence for sentence, _ in zip(sentences, range(most), strict=False)]
    more = [f"and {count - most} more"] if count > most else []
    return ". ".join((*told, *more))


def place(slots: Slots, zone_map: ZoneMap) -> str:
    """A place with its side, whatever is known of it."""
    side = str(slots.get("side", "side not said"))
    if "zone" not in slots:
        return f"place not settled, {side}"
    named = place_in_words(slots, zone_map)
    return named if known_zone(slots, zone_map) is not None else f"{inert(named)}, {side}"


def zone_title(zone: str, zone_map: ZoneMap) -> str:
    """A zone's name within a sentence, of a map that may not know it."""
    return inert(zone_map.title_of(zone))


def _before(finding: Finding) -> str:
    return _what(finding.history[-1])


def _remark(entry: Entry) -> str:
    """A number that was spelled, what was said of the vehicle, a fault without a place but with its
    side, or just words.
    """
    spelt = next((name for name in SPELT_SLOTS if name in entry.slots), None)
    if spelt is not None:
        return f"{SPELT[spelt]} {spelled_out(str(entry.slots[spelt]))}"
    if "odometer" in entry.slots:
        return _odometer(str(entry.slots["odometer"]))
    if "inspector" in entry.slots:
        return f"inspector {inert(str(entry.slots['inspector']), LONGEST)}"
    if not entry.unplaced:
        return "remark kept"
    side = [str(entry.slots["side"])] if "side" in entry.slots else []
    return f"{', '.join((_what(entry), *side, *_details(entry)))}: say the place"


def _odometer(reading: str) -> str:
    """``odometer 82400 miles``."""
    number, _, unit = inert(reading, LONGEST).partition(" ")
    return f"odometer {number} {_UNITS.get(unit, unit)}".rstrip()


def _what(entry: Entry) -> str:
    """The condition, or what else the entry is."""
    if entry.kind is Kind.PHOTO:
        return "photo"
    if entry.kind is Kind.NOT_SEEN:
        return f"not seen, {inert(entry.reason, LONGEST)}" if entry.reason else "not seen"
    condition = inert(condition_in_words(entry)) or "a fault not named"
    return f"maybe {condition}" if entry.slots.get("certainty") == "tentative" else condition


def _details(entry: Entry) -> Iterator[str]:
    yield from measures(entry)
    if entry.slots.get("probe") in _BAD_PROBES:
        yield _BAD_PROBES[entry.slots["probe"]]
    if entry.slots.get("surround") == "none":
        yield "no solid metal around it"


def _limits(finding: Finding) -> Iterator[str]:
    """The grade where it counts, and whether to listen again."""
    worst, said = worst_said(finding), finding.spoken_grade
    if worst in (Grade.REPAIR, Grade.UNSAFE):
        yield str(worst)
        if said is not None and said is not worst:
            yield f"you said {said}"
    if finding.entry.doubtful and not finding.entry.unplaced:
        yield "doubtful"
