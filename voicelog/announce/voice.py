"""The port every voice is reached through: a sentence in, its sound out."""

from __future__ import annotations

from collections import OrderedDict
from dataclasses import dataclass
from typing import TYPE_CHECKING, Protocol

if TYPE_CHECKING:
    from numpy import float32
    from numpy.typing import NDArray

    Floats = NDArray[float32]

PEAK = 0.8
"""The loudest sample of a sentence, whichever voice says it."""

QUIETEST = 0.01
"""Below this (-40 dB) the beginning and the end of a sentence are taken for silence."""

KEPT_S = 0.03
"""Silence kept at both ends, for soft consonants."""

REMEMBERED = 8
"""Sentences kept: enough for "say again" and the phrases that come and go."""

LONGEST_KEPT_S = 10.0
"""Longer ones are not kept: 1 MB each is enough."""


@dataclass(frozen=True, slots=True)
class Spoken:
    """A sentence as sound.

    Args:
        samples: mono, -1 to 1, shape (samples,); empty when there was nothing to say.
        rate_hz: samples a second.
    """

    samples: Floats
    rate_hz: int

    @property
    def length_s(self) -> float:
        """How long it takes to say."""
        return len(self.samples) / self.rate_hz


class Voice(Protocol):
    """An offline voice. One sentence at a time; not safe to share between threads."""

    @property
    def name(self) -> str:
        """As given to :func:`~voicelog.announce.lookup.open_voice`: ``built-in``, …"""

    def speak(self, text: str) -> Spoken:
        """The sound of any text, odd characters and all.

        Raises:
            VoiceFault: when the engine fails.
        """


class NoVoice:
    """Says nothing.

    Args:
        why: the reason, for whoever asks; empty when it was chosen.
    """

    name = "none"

    def __init__(self, why: str = "") -> None:
        self.why = why

    def speak(self, text: str) -> Spoken:
        """Nothing."""
        del text
        return even([], 16_000)


class Remembering:
    """A voice that does not say the same thing twice from scratch.

    Args:
        voice: who speaks.
        size: sentences kept, the one asked for longest ago forgotten first.
    """

    def __init__(self, voice: Voice, size: int = REMEMBERED) -> None:
        self._voice, self._size = voice, size
        self._kept: OrderedDict[str, Spoken] = OrderedDict()

    @property
    def name(self) -> str:
        """That of the voice."""
        return self._voice.name

    def speak(self, text: str) -> Spoken:
        """What was said before, or else the voice's answer."""
        spoken = self._kept.pop(text, None) or self._voice.speak(text)
        if spoken.length_s <= LONGEST_KEPT_S:
            self._kept[text] = spoken
        if len(self._kept) > self._size:
            self._kept.popitem(last=False)
        return spoken


def even(samples: object, rate_hz: int) -> Spoken:
    """Sound of any engine, without the silence around it and as loud as that of the others.

    Args:
        samples: mono, -1 to 1; what is no number counts as silence.
        rate_hz: samples a second.
    """
    import numpy as np

    sound: Floats = np.nan_to_num(np.asarray(samples, np.float32), posinf=0.0, neginf=0.0)
    loud = np.flatnonzero(np.abs(sound) > QUIETEST)
    if not len(loud):
        return Spoken(np.zeros(0, np.float32), rate_hz)
    kept = round(KEPT_S * rate_hz)
    sound = sound[max(0, int(loud[0]) - kept) : int(loud[-1]) + kept]
    sound = sound * np.float32(PEAK / np.abs(sound).max())
    sound.flags.writeable = False
    return Spoken(sound, rate_hz)
