"""Entries in words: what was found, how big, how bad. Plain text, for every front end."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from voicelog.domain.advice import WhatIf
from voicelog.domain.entry import Entry, Finding, Kind, Question
from voicelog.domain.inert import inert
from voicelog.domain.slot import VEHICLE_SLOTS
from voicelog.domain.slot_title import slot_title, value_title
from voicelog.domain.zone import ZoneMap

SIGNS: Mapping[str, str] = {"cosmetic": "~", "treat": "+", "repair": "#", "unsafe": "!"}
"""Grade to the sign beside its word, so that neither needs a colour."""

SPELT = {
    "vin": "VIN", "plate": "plate", "paint_code": "paint code", "spelt": "spelled",
    "odometer": "odometer", "inspector": "inspector",
}  # fmt: skip
"""What *I spell* gave, by its slot."""
_UNITS = (
    ("size_mm", "{:g}", "mm"), ("width_mm", "{:g}", "mm wide"), ("depth_mm", "{:g}", "mm deep"),
    ("thickness_mm", "{:g}", "mm thick"), ("nominal_mm", "{:g}", "mm when new"),
    ("loss_percent", "{:.1f}", "% lost"), ("area_percent", "{:.0f}", "% of the surface"),
    ("mount_distance_mm", "{:g}", "mm from a mounting"),
)  # fmt: skip
OPEN_IN_WORDS: Mapping[str, str] = {
    "not-seen": "nobody looked",
    "cavity-not-seen": "nobody looked inside",
    "not-probed": "looked at, not probed",
    "unproven": "metal not reached",
    "doubtful": "maybe misheard",
}
"""What is open at a place, by the reason of its gap; the first that is told comes first."""


def what_in_words(finding: Finding) -> str:
    """What an entry says of its place, for example ``hole, 25 mm, probe through``.

    Empty for a remark and for an entry whose condition is not known.
    """
    entry = finding.entry
    if entry.kind is Kind.PHOTO:
        return "photo claimed"
    if entry.kind is Kind.NOT_SEEN:
        return f"not seen: {inert(entry.reason)}" if entry.reason else "not seen"
    parts = [condition_in_words(entry), *details_in_words(entry)]
    if entry.absent:
        parts.append("no " + ", no ".join(name.replace("-", " ") for name in entry.absent))
    return inert(", ".join(part for part in parts if part))


def condition_in_words(entry: Entry) -> str:
    """The condition's name as it is spoken; ``clear`` where none was found."""
    default = "clear" if entry.kind is Kind.CLEAR else ""
    return str(entry.slots.get("condition", default)).replace("-", " ")


def details_in_words(entry: Entry) -> Iterator[str]:
    """Count, measures with their units, probe, surround, hedge and landmark, one by one."""
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
    value = entry.slots[slot]
    if isinstance(value, str):  # no number of ours; a log may hold it all the same
        return inert(value)
    return " to ".join(shape.format(end) for end in entry.ranges.get(slot) or (value,))


def grade_in_words(finding: Finding) -> str:
    """The grade and what limits it, for example ``repair, metal not reached, you said treat``.

    Empty where the entry has no grade.
    """
    if finding.grade is None:
        return ""
    proven = ", metal not reached" if finding.unproven else ""
    spoken = finding.spoken_grade
    said = f", you said {spoken}" if spoken is not None and spoken != finding.grade else ""
    return f"{finding.grade}{proven}{said}"


def what_if_in_words(one: WhatIf) -> str:
    """What would have changed a grade: ``repair, metal not reached, if the probe went through``."""
    unproven = ", metal not reached," if one.unproven else ""
    return f"{one.grade}{unproven} if {inert(one.said)}"


def question_in_words(question: Question, zone_map: ZoneMap | None = None) -> str:
    """What should be asked, for example ``which place: front rail, mid rail or rear rail?``.

    Args:
        question: as the entry holds it, with the contract's names.
        zone_map: titles of the zones.
    """
    asked, *given = question.slot, *question.options
    options = [inert(value_title(asked, option, zone_map)) for option in given]
    return f"which {inert(slot_title(asked))}: {listed(options)}?"


def listed(options: Sequence[str]) -> str:
    """``left or right``, ``front rail, mid rail or rear rail``."""
    if len(options) < 2:
        return "".join(options)
    return f"{', '.join(options[:-1])} or {options[-1]}"


def spelt_in_words(entry: Entry) -> str:
    """What a remark gives of the vehicle, each under its name; empty where it gives nothing."""
    return ", ".join(
        f"{SPELT[name]} {inert(str(entry.slots[name]))}"
        for name in VEHICLE_SLOTS
        if name in entry.slots
    )
