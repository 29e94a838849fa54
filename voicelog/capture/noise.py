"""Following the level of the sound between utterances."""

from __future__ import annotations

from voicelog.capture.level import SILENCE_DBFS

FALLS = 0.2
"""Share of a fall taken over from one block (about 0.15 s to follow it)."""

RISES = 0.02
"""Share of a rise: slow, so that a dropped spanner does not count as noise."""


class NoiseFloor:
    """A level that falls quickly and rises slowly."""

    def __init__(self) -> None:
        self._level_dbfs: float | None = None

    @property
    def level_dbfs(self) -> float:
        """The floor in dB below full scale; that of silence before any sound came."""
        return SILENCE_DBFS if self._level_dbfs is None else self._level_dbfs

    def take(self, level_dbfs: float) -> None:
        """Take the level of the next 32 ms of sound without speech."""
        if self._level_dbfs is None:
            self._level_dbfs = level_dbfs
            return
        difference = level_dbfs - self._level_dbfs
        self._level_dbfs += difference * (FALLS if difference < 0 else RISES)
