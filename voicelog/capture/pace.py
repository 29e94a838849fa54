"""Noticing a microphone that gives sound at another rate than it says: its speech is too fast or too
slow for any ear, and nothing else looks wrong.
"""

from __future__ import annotations

from voicelog.capture.incoming import Odd
from voicelog.capture.intake import Block

LOOKED_S = 6.0
"""So long it is counted, twice: callbacks come late by tens of milliseconds, and on a machine that can
hardly keep up by seconds, and then in a heap.
"""
ALIKE = 0.02
"""So near to one another the two counts have to be: a device is wrong in the same way all the time.
Ours."""
OFF = 0.08
"""Of the rate: clocks of real devices differ by a ten-thousandth. Ours."""
GAP_S = 0.5
"""Between two blocks: something else is the matter, and it is counted anew."""


class Pace:
    """Counts what a device gives.

    Args:
        device: its name.
        rate_hz: the rate that it was opened with.
    """

    def __init__(self, device: str, rate_hz: int) -> None:
        self._device, self._rate_hz = device, rate_hz
        self._begun_s = self._last_s = float("-inf")
        self._frames, self._before_hz, self._told = 0, 0.0, False

    def take(self, block: Block) -> Odd | None:
        """A block; gives :class:`Odd` once, when it cannot be right."""
        lost = block.overflow or block.lost_frames
        if lost or block.at_s - self._last_s > GAP_S:
            self._begun_s, self._frames = block.at_s, 0
        else:
            self._frames += len(block.frames)
        self._last_s = block.at_s
        counted_s = block.at_s - self._begun_s
        if self._told or counted_s < LOOKED_S:
            return None
        given_hz, self._frames, self._begun_s = self._frames / counted_s, 0, block.at_s
        before_hz, self._before_hz = self._before_hz, given_hz
        if _near(given_hz, self._rate_hz, OFF) or not _near(before_hz, given_hz, ALIKE):
            return None
        self._told = True
        return Odd(self._device, given_hz, self._rate_hz)


def _near(one_hz: float, other_hz: float, share: float) -> bool:
    return abs(one_hz / other_hz - 1.0) < share
