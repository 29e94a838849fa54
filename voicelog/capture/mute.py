"""Noticing a microphone that is switched off at its own button: it gives nothing but zeros."""

from __future__ import annotations

from voicelog.capture.incoming import Back, Gone, Incoming

MUTED_AFTER_S = 5.0
"""Digital silence after which it is told. A real microphone gives noise even in a quiet room."""

WHY = "it gives nothing but digital silence: is it switched off, or muted?"


class Mute:
    """Follows one device.

    Some headsets give zeros of themselves between words. Each time sound comes back, twice as long
    is waited before the next notice, so that such a one is not told about again and again.

    Args:
        device: its name.
        after_s: digital silence after which it is told for the first time.
    """

    def __init__(self, device: str, after_s: float = MUTED_AFTER_S) -> None:
        self._device, self._after_s = device, after_s
        self._since_s: float | None = None
        self._told = False

    def take(self, silent: bool, at_s: float) -> Incoming | None:
        """A block of sound: is it all zeros, and when did it come?

        Returns:
            :class:`Gone` once for a stretch of silence, :class:`Back` when it has ended.
        """
        if not silent:
            return self._sound(at_s)
        if self._since_s is None:
            self._since_s = at_s
        if self._told or at_s - self._since_s < self._after_s:
            return None
        self._told = True
        return Gone(self._device, WHY)

    def _sound(self, at_s: float) -> Incoming | None:
        since_s, self._since_s = self._since_s, None
        if not self._told or since_s is None:
            return None
        self._told = False
        self._after_s *= 2
        return Back(self._device, at_s - since_s)
