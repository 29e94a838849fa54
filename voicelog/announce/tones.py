"""The tones, as data: one pattern for each signal, told apart by rhythm alone.

Under a lift one hears badly: ear defenders, an air tool next door, and often a hearing loss that
begins above 4 kHz. So no two signals share a rhythm: they differ in the number of their notes, or a
note of one is more than twice as long as the same note of the other. Pitch only helps: up for
something gained, down for something given up. Every frequency lies between 400 Hz and 3 kHz, above
the rumble of a workshop and below the loss. Patterns and figures are ours.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING

from voicelog.domain.signal import Signal

if TYPE_CHECKING:
    from numpy import float32
    from numpy.typing import NDArray

    Floats = NDArray[float32]

SHORT_S, LONG_S, LONGEST_S = 0.07, 0.2, 0.45
"""The three lengths of a note, each more than twice the one before."""

PAUSE_S, GROUP_S = 0.06, 0.17
"""Silence between two notes, and between two groups of notes."""

CEILING_HZ = 3_000.0
"""Nothing is heard above this."""

OVERTONES = (1.0, 0.35, 0.12)
"""Strength of the note's frequency and of its multiples: a little colour carries through noise."""

ATTACK_S, DECAY_S = 0.008, 0.02
"""Ramps at both ends of a note: none of them clicks."""


@dataclass(frozen=True, slots=True)
class Note:
    """One note and the silence after it.

    Args:
        hz: its frequency.
        length_s: how long it sounds, ramps included.
        pause_s: silence that follows; 0 after the last.
    """

    hz: float
    length_s: float
    pause_s: float = 0.0


@dataclass(frozen=True, slots=True)
class Pattern:
    """What one signal sounds like.

    Args:
        notes: in order.
        loudness: its peak, 1 being the most that a speaker can give.
    """

    notes: tuple[Note, ...]
    loudness: float = 0.35

    @property
    def length_s(self) -> float:
        """From the first note's beginning to the last one's end."""
        return sum(note.length_s + note.pause_s for note in self.notes)


def _notes(rhythm: str, *pitches_hz: float) -> tuple[Note, ...]:
    """Notes from a rhythm (``s`` short, ``l`` long, ``x`` longest, a space before a new group)."""
    lengths = {"s": SHORT_S, "l": LONG_S, "x": LONGEST_S}
    notes, pitches = list[Note](), iter(pitches_hz)
    for here, after in zip(rhythm, f"{rhythm[1:]}.", strict=True):
        if here in lengths:
            pause_s = {" ": GROUP_S, ".": 0.0}.get(after, PAUSE_S)
            notes.append(Note(next(pitches), lengths[here], pause_s))
    return tuple(notes)


PATTERNS: Mapping[Signal, Pattern] = {
    Signal.FINDING: Pattern(_notes("ss", 660, 990)),
    Signal.DOUBTFUL: Pattern(_notes("sl", 660, 590)),
    Signal.REMARK: Pattern(_notes("s", 520), 0.25),
    Signal.UNSAFE: Pattern(_notes("sss sss", 1400, 1050, 1400, 1400, 1050, 1400), 0.85),
    Signal.CHANGED: Pattern(_notes("ls", 880, 660)),
    Signal.QUESTION: Pattern(_notes("ssl", 590, 590, 880), 0.45),
    Signal.REFUSED: Pattern(_notes("ll", 520, 440), 0.45),
    Signal.STANDING_BY: Pattern(_notes("x", 440)),
    Signal.LISTENING: Pattern(_notes("sss", 590, 740, 990)),
    Signal.TOO_LOUD: Pattern(_notes("lll", 740, 740, 740), 0.7),
    Signal.MICROPHONE_LOST: Pattern(_notes("xxx", 1320, 880, 590), 0.85),
    Signal.MICROPHONE_BACK: Pattern(_notes("xs", 590, 1180), 0.45),
    Signal.FINISHED: Pattern(_notes("lssl", 880, 740, 590, 440)),
}
"""Every signal's pattern."""


@lru_cache(maxsize=2 * len(Signal))
def render(signal: Signal, rate_hz: int) -> Floats:
    """The sound of a signal.

    Args:
        signal: which.
        rate_hz: samples a second, at least 8000.

    Returns:
        Mono samples between -1 and 1, shape (samples,); kept for the next call, so read-only.
    """
    import numpy as np

    pattern = PATTERNS[signal]
    parts: list[Floats] = []
    for note in pattern.notes:
        parts += [_sound(note, rate_hz), np.zeros(round(note.pause_s * rate_hz), np.float32)]
    samples: Floats = np.concatenate(parts) * np.float32(pattern.loudness)
    samples.flags.writeable = False
    return samples


def _sound(note: Note, rate_hz: int) -> Floats:
    """One note with its overtones and ramps, its peak at about 1."""
    import numpy as np

    at_s = np.arange(round(note.length_s * rate_hz)) / rate_hz
    wave = np.zeros(len(at_s))
    for number, strength in enumerate(OVERTONES, 1):
        if number * note.hz < CEILING_HZ:
            wave += strength * np.sin(2 * np.pi * number * note.hz * at_s)
    left_s = note.length_s - at_s
    ramp = np.minimum(np.minimum(at_s / ATTACK_S, left_s / DECAY_S), 1.0)
    shaped = wave / np.abs(wave).max() * (1.0 - np.cos(np.pi * ramp)) / 2.0
    sound: Floats = shaped.astype(np.float32)
    return sound
