"""Entries in words: what was found, how big, how bad. Plain text, for every front end."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from voicelog.domain.advice import WhatIf
from voicelog.domain.entry import Entry, Finding, Kind, Question
from voicelog.domain.inert import inert
from voicelog.domain.slot import VEHICLE_SLOTS
from voicelog.domain.slot_title import slot_title, value_title
from voicelog.domain.told_length import told_number
from voicelog.domain.zone import ZoneMap
from voicelog.tongue import either, joined, to_word, worded

SIGNS: Mapping[str, str] = {"cosmetic": "~", "treat": "+", "repair": "#", "unsafe": "!"}
"""Grade to the sign beside its word, so that neither needs a colour."""

SPELT = {
    "vin": to_word("VIN"), "plate": to_word("plate"), "paint_code": to_word("paint code"),
    "spelt": to_word("spelled"), "odometer": to_word("odometer"), "inspector": to_word("inspector"),
}  # fmt: skip
"""What *I spell* gave, by its slot."""
_UNITS = (
    ("size_mm", "{:g}", to_word("{number} mm")),
    ("width_mm", "{:g}", to_word("{number} mm wide")),
    ("depth_mm", "{:g}", to_word("{number} mm deep")),
    ("thickness_mm", "{:g}", to_word("{number} mm thick")),
    ("nominal_mm", "{:g}", to_word("{number} mm when new")),
    ("loss_percent", "{:.1f}", to_word("{number} % lost")),
    ("area_percent", "{:.0f}", to_word("{number} % of the surface")),
    ("mount_distance_mm", "{:g}", to_word("{number} mm from a mounting")),
)  # fmt: skip
OPEN_IN_WORDS: Mapping[str, str] = {
    "not-seen": to_word("nobody looked"),
    "cavity-not-seen": to_word("nobody looked inside"),
    "not-probed": to_word("looked at, not probed"),
    "unproven": to_word("metal not reached"),
    "doubtful": to_word("maybe misheard"),
}
"""What is open at a place, by the reason of its gap, for :func:`~voicelog.tongue.worded`; the first
that is told comes first."""


def what_in_words(finding: Finding) -> str:
    """What an entry says of its place, for example ``hole, 25 mm, probe through``.

    Empty for a remark and for an entry whose condition is not known.
    """
    entry = finding.entry
    if entry.kind is Kind.PHOTO:
        return worded("photo claimed")
    if entry.kind is Kind.NOT_SEEN:
        return not_seen_in_words(entry)
    absent = (worded("no {what}", what=name.replace("-", " ")) for name in entry.absent)
    parts = (condition_in_words(entry), *details_in_words(entry), *absent)
    return inert(joined(", ", filter(None, parts)))


def not_seen_in_words(entry: Entry) -> str:
    """That nobody could look, with the reason where one was given."""
    if entry.reason:
        return worded("not seen: {reason}", reason=inert(entry.reason))
    return worded("not seen")


def condition_in_words(entry: Entry) -> str:
    """The condition's name as it is spoken; ``clear`` where none was found."""
    default = "clear" if entry.kind is Kind.CLEAR else ""
    return str(entry.slots.get("condition", default)).replace("-", " ")


def details_in_words(entry: Entry) -> Iterator[str]:
    """Count, measures with their units, probe, surround, hedge and landmark, one by one."""
    slots = entry.slots
    if "count" in slots:
        yield worded("{number} of them", number=_number(entry, "count", "{:g}"))
    for name, shape, unit in _UNITS:
        if name in slots:
            yield _measure(entry, name, shape, unit)
    if "probe" in slots:
        yield worded("probe {result}", result=slots["probe"])
    if slots.get("surround") is not None:
        firm = slots["surround"] == "firm"
        yield worded("solid metal around it") if firm else worded("no solid metal around it")
    if slots.get("certainty") == "tentative":
        yield worded("tentative")
    if "landmark" in slots:
        yield inert(str(slots["landmark"]))


def _measure(entry: Entry, slot: str, shape: str, unit: str) -> str:
    """A measure with its unit; more metal than new is told as what it is, not as a loss."""
    value = entry.slots[slot]
    if slot == "loss_percent" and isinstance(value, float | int) and value < 0:
        return worded("{percent} % over nominal", percent=f"{-value:.1f}")
    return worded(unit, number=_number(entry, slot, shape))


def _number(entry: Entry, slot: str, shape: str) -> str:
    """The slot's number, or both ends of the range it was said as."""
    value = entry.slots[slot]
    if isinstance(value, str):  # no number of ours; a log may hold it all the same
        return inert(value)
    low, *high = (
        shape.format(told_number(end, slot)) for end in entry.ranges.get(slot) or (value,)
    )
    return worded("{low} to {high}", low=low, high=high[0]) if high else low


def grade_in_words(finding: Finding) -> str:
    """The grade and what limits it, for example ``repair, metal not reached, you said treat``.

    Empty where the entry has no grade.
    """
    if finding.grade is None:
        return ""
    told = [str(finding.grade)]
    if finding.unproven:
        told.append(worded("metal not reached"))
    spoken = finding.spoken_grade
    if spoken is not None and spoken != finding.grade:
        told.append(worded("you said {grade}", grade=spoken))
    return joined(", ", told)


def what_if_in_words(one: WhatIf) -> str:
    """What would have changed a grade: ``repair, metal not reached, if the probe went through``."""
    said = inert(one.said)
    if one.unproven:
        return worded("{grade}, metal not reached, if {said}", grade=one.grade, said=said)
    return worded("{grade} if {said}", grade=one.grade, said=said)


def question_in_words(question: Question, zone_map: ZoneMap | None = None) -> str:
    """What should be asked, for example ``which place: front rail, mid rail or rear rail?``.

    Args:
        question: as the entry holds it, with the contract's names.
        zone_map: titles of the zones.
    """
    asked, *given = question.slot, *question.options
    options = [inert(value_title(asked, option, zone_map)) for option in given]
    slot = inert(slot_title(asked))
    return worded("which {slot}: {options}?", slot=slot, options=either(options))


def spelt_in_words(entry: Entry) -> str:
    """What a remark gives of the vehicle, each under its name; empty where it gives nothing."""
    return joined(
        ", ",
        (
            joined(" ", (worded(SPELT[name]), inert(str(entry.slots[name]))))
            for name in VEHICLE_SLOTS
            if name in entry.slots
        ),
    )
