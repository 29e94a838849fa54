"""Entries as lines of text: what was found where, how bad it is, what is in doubt."""

from __future__ import annotations

from collections.abc import Iterator

from rich.text import Text

from voicelog.domain.entry import Entry, Finding, Kind
from voicelog.domain.inert import inert
from voicelog.domain.zone import ZoneMap
from voicelog.findings.places import place_in_words
from voicelog.findings.wording import (
    SIGNS,
    grade_in_words,
    question_in_words,
    spelt_in_words,
    what_in_words,
)
from voicelog.runtime.read_back import called_before
from voicelog.tongue import worded

_STYLES = {
    "cosmetic": "green",
    "treat": "yellow",
    "repair": "bold magenta",
    "unsafe": "bold white on red",
}


def finding_lines(finding: Finding, zone_map: ZoneMap) -> Iterator[Text]:
    """An entry and what there is to say about it.

    Args:
        finding: as it stands now.
        zone_map: titles of the zones.
    """
    entry = finding.entry
    if entry.kind is Kind.REMARK and not entry.unplaced:
        yield from _remark_lines(finding, zone_map)
        return
    line = Text("      ")
    line.append(*_opening(finding))
    line.append(place_in_words(entry.slots, zone_map))
    line.append(" — " + (what_in_words(finding) or str(entry.kind)))
    if finding.grade is not None and not finding.withdrawn:
        line.append("  ")
        badge = f"[{SIGNS[str(finding.grade)]} {grade_in_words(finding)}]"
        line.append(badge, style=_STYLES[str(finding.grade)])
    if entry.doubtful:
        line.append(("  " + worded("?doubtful")), style="bold yellow")
    yield line
    if not finding.withdrawn and (before := called_before(finding, zone_map)):
        yield Text("            " + worded("before: {before}", before=before), style="dim")
    yield from _doubt_lines(entry, zone_map)
    if finding.rules and not finding.withdrawn:
        yield Text(
            ("            " + worded("by rule {rules}", rules=inert(", ".join(finding.rules)))),
            style="dim",
        )
    for caution in () if finding.withdrawn else finding.cautions:
        yield Text(f"            {inert(caution)}", style="bold")


def _opening(finding: Finding) -> tuple[str, str]:
    """The entry's id and what became of it, with its style."""
    if finding.withdrawn:
        return (worded("withdrawn {entry}:", entry=finding.entry.id) + " "), "dim"
    if finding.history:
        return (worded("changed {entry}:", entry=finding.entry.id) + " "), "bold"
    return f"{finding.entry.id}: ", "dim"


def _remark_lines(finding: Finding, zone_map: ZoneMap) -> Iterator[Text]:
    entry = finding.entry
    spelt = spelt_in_words(entry)
    if spelt:
        opening = _opening(finding)
        doubtful = (("  " + worded("?doubtful")) if entry.doubtful else "", "bold yellow")
        yield Text.assemble("      ", opening, spelt, doubtful)
    else:
        tags = f" [{', '.join(map(_tag, entry.tags))}]" if entry.tags else ""
        yield Text(("      " + worded("remark{tags}", tags=inert(tags))), style="dim")
    yield from _doubt_lines(entry, zone_map)


def _tag(tag: str) -> str:
    """ "refused-scraping" as "refused: scraping", "winter-salt" as "winter salt"."""
    about, _, what = tag.partition("-")
    own = about in ("stood", "surface", "refused")  # of the vehicle as a whole
    return f"{about}: {what}" if own else tag.replace("-", " ")


def _doubt_lines(entry: Entry, zone_map: ZoneMap) -> Iterator[Text]:
    for doubt in entry.doubts:
        yield Text(
            ("            " + worded("listen again: {doubt}", doubt=inert(doubt))), style="yellow"
        )
    for question in entry.questions:
        yield Text(f"            {question_in_words(question, zone_map)}", style="yellow")
    if "vin" in entry.slots and entry.questions:
        yield Text(
            "            " + worded('"affirm" keeps it as heard; "correction, I spell" replaces it')
        )
