"""Noticing a microphone that is turned up too far: speech goes past what it can give."""

from __future__ import annotations

from collections import deque

SHARE = 0.1
"""Of an utterance's blocks: a hammer's blow now and then is none of its fault. Ours."""
LAST, MANY = 5, 3
"""So many of the last utterances past the limit are no accident. Ours."""
AGAIN_AFTER = 20
"""Utterances after which it is told once more."""


class Overdriven:
    """Follows the sound while somebody speaks."""

    def __init__(self) -> None:
        self._blocks = self._clipped = self._silent_for = 0
        self._last: deque[bool] = deque(maxlen=LAST)

    def sound(self, *, clipped: bool) -> None:
        """A block of an open utterance."""
        self._blocks += 1
        self._clipped += clipped

    def ended(self) -> bool:
        """The utterance has ended; True when it should be told that this cannot go on."""
        self._last.append(self._clipped > SHARE * self._blocks)
        self._blocks = self._clipped = 0
        self._silent_for = max(0, self._silent_for - 1)
        if self._silent_for or sum(self._last) < MANY:
            return False
        self._silent_for = AGAIN_AFTER
        return True
