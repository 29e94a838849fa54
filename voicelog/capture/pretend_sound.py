"""The sound that a pretended microphone gives, in blocks of whatever size it is asked for."""

from __future__ import annotations

from collections.abc import Iterable
from threading import Lock
from typing import TYPE_CHECKING

from voicelog.errors import VoicelogError

if TYPE_CHECKING:
    from numpy import float32
    from numpy.typing import NDArray

    Floats = NDArray[float32]


class PretendSound:
    """Sound taken from its source only as it is needed; used from several threads.

    Args:
        sound: blocks of any length, shape (frames, channels).
        rate_hz: its sample rate.
    """

    def __init__(self, sound: Iterable[Floats], rate_hz: int) -> None:
        self._sound, self._rate_hz = iter(sound), rate_hz
        self._guard = Lock()
        self._left: list[Floats] = []
        self._given = self._to_discard = 0
        self._ended = False
        self._fault: VoicelogError | None = None

    @property
    def given_s(self) -> float:
        """Length given so far, what was discarded included."""
        return self._given / self._rate_hz

    def discard(self, seconds: float) -> None:
        """Let so much be lost before the next block."""
        with self._guard:
            self._to_discard += round(seconds * self._rate_hz)

    def take(self, frames: int) -> tuple[bool, Floats]:
        """Was something lost before it, and the next so many frames: fewer only at the end."""
        with self._guard:
            lost, self._to_discard = self._to_discard, 0
            if lost:
                self._cut(lost)
            got = self._cut(frames)
            self._ended = not len(got)
            return lost > 0, got

    def over(self) -> bool:
        """True once all of it was given.

        Raises:
            VoicelogError: what the source ended with.
        """
        if self._ended and self._fault is not None:
            raise self._fault
        return self._ended

    def _cut(self, frames: int) -> Floats:
        import numpy as np

        while sum(map(len, self._left)) < frames and (block := self._block()) is not None:
            self._left.append(block)
        together = np.concatenate(self._left) if self._left else np.zeros((0, 1), np.float32)
        self._left = [together[frames:]] if len(together) > frames else []
        self._given += min(frames, len(together))
        return together[:frames]

    def _block(self) -> Floats | None:
        try:
            return next(self._sound, None)
        except VoicelogError as fault:
            self._fault = fault
            return None
