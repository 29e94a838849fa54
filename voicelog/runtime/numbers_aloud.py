"""Measures and spelled numbers as a voice says them: digits, but units and letters in words."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal

from voicelog.domain.entry import Entry
from voicelog.domain.inert import inert
from voicelog.domain.told_length import told_number
from voicelog.tongue import to_word, worded

_OTHERS = (
    ("depth_mm", to_word("{measure} deep")), ("width_mm", to_word("{measure} wide")),
    ("area_percent", to_word("{measure} of the surface")),
    ("mount_distance_mm", to_word("{measure} from a mounting")),
)  # fmt: skip
"""What is said of an entry without a size or thickness; only the first that is known."""
_ALPHABET = (
    "alfa", "bravo", "charlie", "delta", "echo", "foxtrot", "golf", "hotel", "india", "juliett",
    "kilo", "lima", "mike", "november", "oscar", "papa", "quebec", "romeo", "sierra", "tango",
    "uniform", "victor", "whiskey", "x-ray", "yankee", "zulu",
)  # fmt: skip
"""The spelling alphabet of ICAO Annex 10 Volume II, by which numbers are spelled to the tool too."""


def measures(entry: Entry) -> Iterator[str]:
    """How many, and the one measure that tells most; of thin metal also what is lost."""
    if "count" in entry.slots:
        yield worded("{number} of them", number=_number(entry, "count"))
    if "size_mm" in entry.slots:
        size = _with_unit(entry, "size_mm")
        width = _number(entry, "width_mm") if "width_mm" in entry.slots else ""
        yield worded("{width} by {size}", width=width, size=size) if width else size
        return
    if "thickness_mm" in entry.slots:
        yield worded("{measure} left", measure=_with_unit(entry, "thickness_mm"))
    if "loss_percent" in entry.slots:
        yield _lost(float(entry.slots["loss_percent"]))
    elif "thickness_mm" not in entry.slots:
        others = ((name, told) for name, told in _OTHERS if name in entry.slots)
        for name, told in list(others)[:1]:
            yield worded(told, measure=_with_unit(entry, name))


def spelled_out(text: str) -> str:
    """Letters by the spelling alphabet, digits as they are."""
    letters = (_ALPHABET[ord(c) - ord("A")] if "A" <= c <= "Z" else inert(c) for c in text.upper())
    return " ".join(letters)


def _with_unit(entry: Entry, slot: str) -> str:
    number = _number(entry, slot)
    if slot.endswith("percent"):
        return worded("{number} percent", number=number)
    if number == "1":
        return worded("{number} millimetre", number=number)
    return worded("{number} millimetres", number=number)


def _lost(percent: float) -> str:
    """Whole percent are enough for the ear; more metal than new is told as what it is."""
    if percent < 0:
        return worded("{percent} percent over nominal", percent=f"{-percent:.0f}")
    return worded("{percent} percent lost", percent=f"{percent:.0f}")


def _number(entry: Entry, slot: str) -> str:
    """A measure, or both ends of the range it was said as."""
    ends = entry.ranges.get(slot) or (float(entry.slots[slot]),)
    low, *high = (_in_digits(end, slot) for end in ends)
    return worded("{low} to {high}", low=low, high=high[0]) if high else low


def _in_digits(number: float, slot: str) -> str:
    """A length as it is told, a share to a tenth; no idle zeros, and never as a power."""
    number = told_number(number, slot)
    places = 2 if slot.endswith("_mm") or abs(number) < 1 else 1
    return f"{Decimal(str(number)):.{places}f}".rstrip("0").rstrip(".")
