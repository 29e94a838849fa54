"""What the trade says, for somebody who has never seen a frame: names explained, numbers rounded."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from voicelog.domain.entry import Entry
from voicelog.domain.slot import SlotValue
from voicelog.tongue import to_word, worded

MEANS: Mapping[str, str] = {
    "rust-weep": to_word("rusty water comes out of a seam, from the inside"),
    "oil-film": to_word("oil or wax lies over the metal"),
    "recoated": to_word("somebody has coated it anew"),
    "blistering": to_word("the coating lifts in bubbles"),
    "scale": to_word("thick flakes of rust"),
    "delamination": to_word("the metal comes off in layers"),
    "pack-rust": to_word("rust between two sheets forces them apart"),
    "pitting": to_word("rust has eaten pits into the metal"),
    "thinning": to_word("the metal has lost thickness"),
    "soft-spot": to_word("the metal gives way when pressed"),
    "deformation": to_word("it is bent, kinked or sagging"),
    "filler": to_word("something other than metal fills a gap"),
    "seized-fixing": to_word("a bolt or nut is rusted fast"),
    "wasted-fixing": to_word("rust has eaten a bolt or rivet thin"),
    "worn-hole": to_word("a bolt hole is worn too wide"),
    "missing-part": to_word("a bolt or a part is not there"),
    "blocked-drain": to_word("water cannot run out"),
    "debris": to_word("mud or dirt hides the metal"),
}
"""Conditions that a buyer may not know by name; common practice, no source."""

_WHOLE_FROM_MM = 10
"""From here on tenths of a millimetre are nothing that anybody saw."""
_HUNDREDTHS = ("thickness_mm", "nominal_mm")
"""Read with a gauge."""


def means(entry: Entry) -> str:
    """What an entry's condition means; empty where its name says so, or it has none."""
    condition = str(entry.slots.get("condition", ""))
    return worded(MEANS[condition]) if condition in MEANS else ""


def rounded(entry: Entry) -> Entry:
    """An entry with its measures as a person would tell them; the log keeps what was worked out.

    Walls keep hundredths of a millimetre; all else tenths, and from ten millimetres on none. A coin
    is 24 mm across and no 24.26, for nobody laid a caliper to the hole.
    """
    slots = {name: _told(name, value) for name, value in entry.slots.items()}
    ranges = {
        name: (told_mm(low, name), told_mm(high, name)) if name.endswith("_mm") else (low, high)
        for name, (low, high) in entry.ranges.items()
    }
    return replace(entry, slots=slots, ranges=ranges)


def _told(name: str, value: SlotValue) -> SlotValue:
    return told_mm(value, name) if name.endswith("_mm") and isinstance(value, float) else value


def told_mm(value: float, name: str = "") -> float:
    """A length in millimetres as it is told; ``name`` is that of its slot."""
    if name in _HUNDREDTHS:
        return round(value, 2)
    return round(value, 0 if abs(value) >= _WHOLE_FROM_MM else 1) or value
