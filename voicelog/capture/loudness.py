"""Is it too loud to hear words in? A rule over the noise floor and the person's own level.

Measured on our own synthetic set (English, small recognisers): with the noise as loud as the
speech, a third to a half of the words are wrong; with the speech 10 dB above it, hardly more than
in quiet. The thresholds lie between the two, and apart from each other, so that a noise that
wavers is told about once. The times, and the level before anybody has spoken, are ours.
"""

from __future__ import annotations

import math
from collections import deque
from statistics import median

from voicelog.capture.level import SILENCE_DBFS

ENTERS_DB = 5.0
"""Too loud when the usual speech is less than so much above the noise floor."""

LEAVES_DB = 8.0
"""No longer too loud when it is so much above it, or more."""

ENTERS_AFTER_S = 2.0
"""So long it has to last: a dropped spanner is no noise."""

LEAVES_AFTER_S = 3.0
"""So long it has to be quiet: an air tool pauses for a moment between two bursts."""

USUAL_DBFS = -30.0
"""Level of speech taken before any was heard: a voice at arm's length."""

UTTERANCES = 9
"""As many of the last utterances make the person's usual level."""

STANDS_OUT_DB = 1.0
"""Sound of an utterance less above the noise than this says nothing about the voice in it."""


class Loudness:
    """Follows noise and speech; the times are the caller's own, in seconds."""

    def __init__(self) -> None:
        self._levels: deque[float] = deque(maxlen=UTTERANCES)
        self._since_s: float | None = None
        self.too_loud = False
        """Words can hardly be heard now."""

    @property
    def usual_dbfs(self) -> float:
        """Level of the person's speech: the median of their last utterances."""
        return median(self._levels) if self._levels else USUAL_DBFS

    def spoke(self, level_dbfs: float, noise_dbfs: float = SILENCE_DBFS) -> None:
        """An utterance was heard.

        Args:
            level_dbfs: of its sound, noise and all.
            noise_dbfs: the noise floor before it, which is taken off.
        """
        if level_dbfs - noise_dbfs >= STANDS_OUT_DB:
            power = 10 ** (level_dbfs / 10) - 10 ** (noise_dbfs / 10)
            self._levels.append(10 * math.log10(power))

    def take(self, noise_dbfs: float, at_s: float) -> bool:
        """The noise floor at a moment; give whether it is too loud from then on."""
        above_db = self.usual_dbfs - noise_dbfs
        changes = above_db >= LEAVES_DB if self.too_loud else above_db < ENTERS_DB
        if not changes:
            self._since_s = None
            return self.too_loud
        if self._since_s is None:
            self._since_s = at_s
        if at_s - self._since_s >= (LEAVES_AFTER_S if self.too_loud else ENTERS_AFTER_S):
            self.too_loud, self._since_s = not self.too_loud, None
        return self.too_loud
