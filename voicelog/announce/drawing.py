"""A rhythm drawn with characters: higher is higher, longer is longer, a blank is silence."""

from __future__ import annotations

import math

from voicelog.announce.tones import GROUP_S, PATTERNS, SHORT_S, Note
from voicelog.domain.signal import Signal

BLOCKS = "▂▃▄▅▆▇█"
"""From the lowest pitch to the highest; at least a quarter of an octave each."""

PLAIN = "_-^"
"""The same for terminals that only know ASCII: low, middle, high."""


def drawing(signal: Signal, *, plain: bool = False) -> str:
    """The rhythm and pitch of a signal in one line.

    Args:
        signal: which.
        plain: with ASCII characters only.
    """
    steps = PLAIN if plain else BLOCKS
    return "".join(_drawn(note, steps) for note in PATTERNS[signal].notes)


def _drawn(note: Note, steps: str) -> str:
    """One column for each short note's length, and the silence after."""
    wide = max(1, round(note.length_s / SHORT_S))
    blank = 0 if note.pause_s == 0 else 2 if note.pause_s >= GROUP_S else 1
    return steps[_step(note.hz, len(steps))] * wide + " " * blank


def _step(hz: float, steps: int) -> int:
    """Which of so many steps a pitch lies on; they share the range of all patterns evenly."""
    pitches = [note.hz for pattern in PATTERNS.values() for note in pattern.notes]
    low, high = math.log2(min(pitches)), math.log2(max(pitches))
    return min(steps - 1, int((math.log2(hz) - low) / (high - low) * steps))
