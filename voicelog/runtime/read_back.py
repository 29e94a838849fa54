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
from voicelog.tongue import joined, to_word, worded

_BAD_PROBES: Mapping[object, str] = {
    "dents": to_word("dents under the probe"),
    "dull": to_word("sounds dull under the probe"),
    "moves": to_word("moves under the probe"),
    "soft": to_word("gives under the probe"),
    "through": to_word("the probe went through"),
}
_UNITS = {"mi": to_word("odometer {number} miles"), "km": to_word("odometer {number} kilometres")}
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
        said = [joined(": ", (place(entry.slots, zone_map), _what(entry))), *_details(entry)]
    return joined(", ", (*said, *_limits(finding)))


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
    return joined(", ", (place(entry.slots, zone_map), _what(entry), *measures(entry)))


def changed(finding: Finding, zone_map: ZoneMap) -> str:
    """An entry that was put right, and what it was called before."""
    now, before = read_back(finding, zone_map), called_before(finding, zone_map)
    if before:
        return worded("changed: {now}, before: {before}", now=now, before=before)
    return worded("changed: {now}", now=now)


def is_renamed(finding: Finding) -> bool:
    """Its last change made something else of it than it was called before, or took it elsewhere."""
    if not finding.history:
        return False
    before = finding.history[-1]
    return _what(before) != _what(finding.entry) or _is_elsewhere(before, finding.entry)


def called_before(finding: Finding, zone_map: ZoneMap) -> str:
    """What it was called before its last change, with its place where that is another; else empty."""
    if not is_renamed(finding):
        return ""
    before, now = finding.history[-1], finding.entry
    if not _is_elsewhere(before, now):
        return _what(before)
    was = place(before.slots, zone_map)
    return was if _what(before) == _what(now) else joined(": ", (was, _what(before)))


def _is_elsewhere(before: Entry, now: Entry) -> bool:
    """Another zone; a side is always read back, and a place that was never named was no other."""
    return "zone" in before.slots and before.slots["zone"] != now.slots.get("zone")


def withdrawn(finding: Finding, zone_map: ZoneMap) -> str:
    """An entry that was taken back."""
    return worded("withdrawn: {entry}", entry=in_short(finding.entry, zone_map))


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
        return worded("no place is known; say where you are")
    there = [f for f in inspection.live if f.entry.slots.get("zone") == zone]
    there = sorted((f for f in there if f.entry.kind is not Kind.REMARK), key=severity)
    if not there:
        return worded("{place}: nothing said yet", place=zone_title(str(zone), zone_map))
    return some((read_back(finding, zone_map) for finding in reversed(there)), len(there), most)


def severity(finding: Finding) -> int:
    """How bad it is by the worse of computed and said, to sort by; -1 where it has no grade."""
    worst = worst_said(finding)
    return -1 if worst is None else worst.rank


def some(sentences: Iterable[str], count: int, most: int) -> str:
    """As many sentences as are allowed, and how many more there are."""
    told = [sentence for sentence, _ in zip(sentences, range(most), strict=False)]
    more = [worded("and {count} more", count=count - most)] if count > most else []
    return joined(". ", (*told, *more))


def place(slots: Slots, zone_map: ZoneMap) -> str:
    """A place with its side, whatever is known of it."""
    side = str(slots["side"]) if "side" in slots else worded("side not said")
    if "zone" not in slots:
        return joined(", ", (worded("place not settled"), side))
    named = place_in_words(slots, zone_map)
    return named if known_zone(slots, zone_map) is not None else joined(", ", (inert(named), side))


def zone_title(zone: str, zone_map: ZoneMap) -> str:
    """A zone's name within a sentence, of a map that may not know it."""
    return inert(zone_map.title_of(zone))


def _remark(entry: Entry) -> str:
    """A number that was spelled, what was said of the vehicle, a fault without a place but with its
    side, or just words.
    """
    spelt = next((name for name in SPELT_SLOTS if name in entry.slots), None)
    if spelt is not None:
        return joined(" ", (worded(SPELT[spelt]), spelled_out(str(entry.slots[spelt]))))
    if "odometer" in entry.slots:
        return _odometer(str(entry.slots["odometer"]))
    if "inspector" in entry.slots:
        name = inert(str(entry.slots["inspector"]), LONGEST)
        return joined(" ", (worded(SPELT["inspector"]), name))
    if not entry.unplaced:
        return worded("remark kept")
    side = [str(entry.slots["side"])] if "side" in entry.slots else []
    told = joined(", ", (_what(entry), *side, *_details(entry)))
    return worded("{fault}: say the place", fault=told)


def _odometer(reading: str) -> str:
    """``odometer 82400 miles``."""
    number, _, unit = inert(reading, LONGEST).partition(" ")
    if unit in _UNITS:
        return worded(_UNITS[unit], number=number)
    return worded("odometer {number}", number=f"{number} {unit}".rstrip())


def _what(entry: Entry) -> str:
    """The condition, or what else the entry is."""
    if entry.kind is Kind.PHOTO:
        return worded("photo")
    if entry.kind is Kind.NOT_SEEN:
        unseen = worded("not seen")
        return joined(", ", (unseen, inert(entry.reason, LONGEST))) if entry.reason else unseen
    condition = inert(condition_in_words(entry)) or worded("a fault not named")
    if entry.slots.get("certainty") == "tentative":
        return worded("maybe {fault}", fault=condition)
    return condition


def _details(entry: Entry) -> Iterator[str]:
    yield from measures(entry)
    if entry.slots.get("probe") in _BAD_PROBES:
        yield worded(_BAD_PROBES[entry.slots["probe"]])
    if entry.slots.get("surround") == "none":
        yield worded("no solid metal around it")


def _limits(finding: Finding) -> Iterator[str]:
    """The grade where it counts, and whether to listen again."""
    worst, said = worst_said(finding), finding.spoken_grade
    if worst in (Grade.REPAIR, Grade.UNSAFE):
        yield str(worst)
        if said is not None and said is not worst:
            yield worded("you said {grade}", grade=said)
    if finding.entry.doubtful and not finding.entry.unplaced:
        yield worded("doubtful")
