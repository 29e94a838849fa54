"""The end of an inspection as lines of text: what was said of its past, what nobody looked at."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from voicelog.domain.entry import Entry, Inspection, Kind
from voicelog.domain.inert import inert
from voicelog.domain.vehicle import VEHICLE
from voicelog.domain.zone import ZoneMap
from voicelog.findings.places import title_in_words
from voicelog.findings.wording import OPEN_IN_WORDS, spelt_in_words
from voicelog.tongue import begun, both, joined, worded


def past_lines(inspection: Inspection) -> Iterator[str]:
    """What was said of the vehicle's past, under its tags."""
    for entry in _tagged(inspection):
        if "spelt" not in entry.tags and VEHICLE not in entry.tags:
            yield f"{', '.join(entry.tags).replace('-', ' ')}: “{inert(entry.text)}”"


def spelt_lines(inspection: Inspection) -> Iterator[str]:
    """Numbers that were spelled; the words themselves where no character was understood."""
    for entry in _tagged(inspection):
        if "spelt" in entry.tags:
            told = spelt_in_words(entry) or f"“{inert(entry.text)}”"
            yield worded("{told}, in doubt", told=told) if entry.doubtful else told


def _tagged(inspection: Inspection) -> Iterator[Entry]:
    entries = (finding.entry for finding in inspection.live)
    return (entry for entry in entries if entry.kind is Kind.REMARK and entry.tags)


def gap_lines(inspection: Inspection, zone_map: ZoneMap) -> Iterator[str]:
    """Places that could still change the verdict, one line for each reason."""
    for why, told in OPEN_IN_WORDS.items():
        places = [gap for gap in inspection.gaps if gap.why == why]
        if places:
            names = _named([(gap.zone, gap.side) for gap in places], zone_map)
            yield joined("", (begun(worded(told)), ": ", joined("; ", names)))


def _named(places: Iterable[tuple[str, str | None]], zone_map: ZoneMap) -> list[str]:
    sides: dict[str, list[str]] = {}
    for zone, side in places:
        sides.setdefault(zone, []).append(side or "")
    return [_with_sides(zone, found, zone_map) for zone, found in sides.items()]


def _with_sides(zone: str, sides: list[str], zone_map: ZoneMap) -> str:
    title = title_in_words(zone_map[zone]) if zone in zone_map else zone.replace("-", " ")
    told = [side for side in dict.fromkeys(sides) if side]
    return f"{title} ({both(told)})" if told else title
