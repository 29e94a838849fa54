"""Level readings for a person to look at: ten a second, whatever sizes the sound comes in."""

from __future__ import annotations

from dataclasses import dataclass

from voicelog.capture.level import level_dbfs
from voicelog.domain.sound import BYTES_PER_SAMPLE, SAMPLE_RATE

A_SECOND = 10
"""Readings a second: more than the eye follows, few enough for any screen."""

_BYTES = SAMPLE_RATE // A_SECOND * BYTES_PER_SAMPLE


@dataclass(frozen=True, slots=True)
class Shown:
    """The level of a tenth of a second.

    Args:
        level_dbfs: root mean square, in dB below full scale.
        clipped: the device gave samples at its limit in it.
    """

    level_dbfs: float
    clipped: bool = False


class Meter:
    """Feed it sound, take readings from it."""

    def __init__(self) -> None:
        self._waiting = bytearray()
        self._clipped = False

    def feed(self, pcm: bytes, *, clipped: bool = False) -> list[Shown]:
        """The readings that are complete with this sound; what is left over waits for more.

        Args:
            pcm: 16 kHz mono signed 16-bit little-endian samples.
            clipped: the device gave samples at its limit; counts for the first reading.
        """
        self._waiting += pcm
        self._clipped |= clipped
        shown = []
        while len(self._waiting) >= _BYTES:
            shown.append(Shown(level_dbfs(bytes(self._waiting[:_BYTES])), self._clipped))
            del self._waiting[:_BYTES]
            self._clipped = False
        return shown
