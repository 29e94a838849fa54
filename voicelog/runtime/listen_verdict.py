"""How well words can be heard through a microphone, judged from its levels."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum

from voicelog.capture.level import SILENCE_DBFS
from voicelog.tongue import to_word

SOFTER, LOUDER = 0.1, 0.8
"""Shares of the tenths of a second, softest first, at which noise and speech are read off."""

QUIET_DBFS = -45.0
"""Speech softer than this is too quiet: ours; 16-bit sound and the ear lose little above it."""

LOUD_DBFS = -9.0
"""Speech louder than this has peaks that reach the limit now and then: ours; the peaks of speech
lie 12 dB and more above its mean."""

APPEARS_DB = 5.0
"""With less between loud and soft moments nobody has spoken, or nobody can be heard: ours."""

STANDS_OUT_DB = 10.0
"""Speech has to be so much above the noise: measured, words are heard well from there on."""


class Verdict(StrEnum):
    """How well words can be heard."""

    NOTHING = to_word("nothing but silence")
    NO_SPEECH = to_word("no speech")
    QUIET = to_word("too quiet")
    NOISY = to_word("too noisy")
    GOOD = to_word("good")
    LOUD = to_word("too loud")
    CLIPPING = to_word("clipping")


ADVICE = {
    Verdict.NOTHING: to_word("Is the microphone muted, or switched off at its own button?"),
    Verdict.NO_SPEECH: to_word(
        "Nothing stood out of the noise; speak up, or choose another microphone"
    ),
    Verdict.QUIET: to_word("Turn the microphone up in the system's settings, or wear it closer"),
    Verdict.NOISY: to_word(
        "Wear the microphone closer to the mouth, or wait for the noise to stop"
    ),
    Verdict.GOOD: to_word("Leave it as it is"),
    Verdict.LOUD: to_word("Turn the microphone down a little in the system's settings"),
    Verdict.CLIPPING: to_word("Turn the microphone down: what goes past its limit is distorted"),
}
"""What to do about each, for :func:`~voicelog.tongue.worded`, as a verdict itself is."""


@dataclass(frozen=True, slots=True)
class Levels:
    """What a microphone gave.

    Args:
        speech_dbfs: its louder moments while somebody spoke.
        noise_dbfs: its quieter moments.
        clipped: it was at its limit.
    """

    speech_dbfs: float
    noise_dbfs: float
    clipped: bool = False

    @classmethod
    def of(cls, spoken: Sequence[float], every: Sequence[float], *, clipped: bool) -> Levels:
        """From readings of tenths of a second, in dBFS: while somebody spoke, and all of them."""
        return cls(_at(LOUDER, spoken), _at(SOFTER, every), clipped)

    @property
    def verdict(self) -> Verdict:
        """What they mean."""
        above_db = self.speech_dbfs - self.noise_dbfs
        rules = (
            (Verdict.NOTHING, self.speech_dbfs <= SILENCE_DBFS),
            (Verdict.CLIPPING, self.clipped),
            (Verdict.NO_SPEECH, above_db < APPEARS_DB),
            (Verdict.LOUD, self.speech_dbfs > LOUD_DBFS),
            (Verdict.NOISY, above_db < STANDS_OUT_DB),
            (Verdict.QUIET, self.speech_dbfs < QUIET_DBFS),
        )
        return next((verdict for verdict, holds in rules if holds), Verdict.GOOD)


def _at(share: float, readings: Sequence[float]) -> float:
    """The level that this share of the readings stays below."""
    return sorted(readings)[int(share * (len(readings) - 1))] if readings else SILENCE_DBFS
