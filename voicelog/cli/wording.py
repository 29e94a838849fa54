"""Entries as lines of text: what was found where, how bad it is, what is in doubt."""

from __future__ import annotations

from collections.abc import Iterator

from rich.text import Text

from voicelog.domain.entry import Entry, Finding, Kind, Question
from voicelog.domain.slot import SPELT_SLOTS
from voicelog.domain.zone import ZoneMap
from voicelog.findings.places import place_in_words

_STYLES = {
    "cosmetic": "green",
    "treat": "yellow",
    "repair": "bold magenta",
    "unsafe": "bold white on red",
}
_SPELT = {"vin": "VIN", "plate": "plate", "paint_code": "paint code", "spelt": "spelled"}
_SIGNS = {"cosmetic": "·", "treat": "+", "repair": "#", "unsafe": "!!"}


def finding_lines(finding: Finding, zone_map: ZoneMap) -> Iterator[Text]:
    """An entry and what there is to say about it.

    Args:
        finding: as it stands now.
        zone_map: titles of the zones.
    """
    entry = finding.entry
    if entry.kind is Kind.REMARK and not entry.unplaced:
        yield from _remark_lines(finding)
        return
    line = Text("      ")
    line.append(*_opening(finding))
    line.append(place_in_words(entry.slots, zone_map))
    line.append(" — " + (_what(finding) or str(entry.kind)))
    if finding.grade is not None and not finding.withdrawn:
        line.append("  ")
        line.append(_badge(finding), style=_STYLES[str(finding.grade)])
    if entry.doubtful:
        line.append("  ?doubtful", style="bold yellow")
    yield line
    yield from _doubt_lines(entry)
    if finding.rules and not finding.withdrawn:
        yield Text(f"            by rule {', '.join(finding.rules)}", style="dim")
    for caution in finding.cautions:
        yield Text(f"            {caution}", style="bold")


def _opening(finding: Finding) -> tuple[str, str]:
    """The entry's id and what became of it, with its style."""
    if finding.withdrawn:
        return f"withdrawn {finding.entry.id}: ", "dim"
    if finding.history:
        return f"changed {finding.entry.id}: ", "bold"
    return f"{finding.entry.id}: ", "dim"


def _remark_lines(finding: Finding) -> Iterator[Text]:
    entry = finding.entry
    spelt = spelt_in_words(entry)
    if spelt:
        opening = _opening(finding)
        doubtful = ("  ?doubtful" if entry.doubtful else "", "bold yellow")
        yield Text.assemble("      ", opening, spelt, doubtful)
    else:
        tags = f" [{', '.join(entry.tags)}]" if entry.tags else ""
        yield Text(f"      remark{inert(tags)}", style="dim")
    yield from _doubt_lines(entry)


def _doubt_lines(entry: Entry) -> Iterator[Text]:
    for doubt in entry.doubts:
        yield Text(f"            listen again: {inert(doubt)}", style="yellow")
    for question in entry.questions:
        options = ", ".join(inert(option) for option in question.options)
        yield Text(f"            which {_named(question)}: {options}?", style="yellow")
    if "vin" in entry.slots and entry.questions:
        yield Text('            "affirm" keeps it as heard; "correction, I spell" replaces it')


def _named(question: Question) -> str:
    return _SPELT.get(question.slot, question.slot.replace("_", " "))


def spelt_in_words(entry: Entry) -> str:
    """What was spelled, under its name; empty where nothing was."""
    return ", ".join(
        f"{_SPELT[name]} {inert(str(entry.slots[name]))}"
        for name in SPELT_SLOTS
        if name in entry.slots
    )


def _badge(finding: Finding) -> str:
    grade = str(finding.grade)
    proven = ", metal not reached" if finding.unproven else ""
    spoken = finding.spoken_grade
    said = f", you said {spoken}" if spoken is not None and str(spoken) != grade else ""
    return f"[{_SIGNS[grade]} {grade}{proven}{said}]"


def _what(finding: Finding) -> str:
    entry = finding.entry
    if entry.kind is Kind.PHOTO:
        return "photo claimed"
    if entry.kind is Kind.NOT_SEEN:
        return f"not seen: {inert(entry.reason)}" if entry.reason else "not seen"
    parts = [
        str(entry.slots.get("condition", "clear" if entry.kind is Kind.CLEAR else "")).replace(
            "-", " "
        )
    ]
    parts += list(_details(entry))
    if entry.absent:
        parts.append("no " + ", no ".join(name.replace("-", " ") for name in entry.absent))
    return ", ".join(part for part in parts if part)


_UNITS = (
    ("size_mm", "{:g}", "mm"), ("width_mm", "{:g}", "mm wide"), ("depth_mm", "{:g}", "mm deep"),
    ("thickness_mm", "{:g}", "mm thick"), ("nominal_mm", "{:g}", "mm when new"),
    ("loss_percent", "{:.1f}", "% lost"), ("area_percent", "{:.0f}", "% of the surface"),
    ("mount_distance_mm", "{:g}", "mm from a mounting"),
)  # fmt: skip


def _details(entry: Entry) -> Iterator[str]:
    slots = entry.slots
    if "count" in slots:
        yield f"{_number(entry, 'count', '{:g}')} of them"
    for name, shape, unit in _UNITS:
        if name in slots:
            yield f"{_number(entry, name, shape)} {unit}"
    if "probe" in slots:
        yield f"probe {slots['probe']}"
    if slots.get("surround") is not None:
        yield "solid metal around it" if slots["surround"] == "firm" else "no solid metal around it"
    if slots.get("certainty") == "tentative":
        yield "tentative"
    if "landmark" in slots:
        yield inert(str(slots["landmark"]))


def _number(entry: Entry, slot: str, shape: str) -> str:
    """The slot's number, or both ends of the range it was said as."""
    ends = entry.ranges.get(slot) or (float(entry.slots[slot]),)
    return " to ".join(shape.format(float(end)) for end in ends)


def inert(text: str) -> str:
    """Text that cannot steer a terminal: control and direction marks are shown as "?"."""
    return "".join(c if c.isprintable() else "?" for c in text)
