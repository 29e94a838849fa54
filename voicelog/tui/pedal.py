"""A pedal that a terminal sees as a key: presses and repeats come in, but never a release."""

from __future__ import annotations

from enum import StrEnum

from voicelog.runtime.messages import Action

FIRST_REPEAT_S = 0.7
"""A key held down repeats for the first time within so long. Ours: keyboards are shipped with a
delay between a quarter and two thirds of a second."""
NEXT_REPEAT_S = 0.25
"""Later repeats come at least so often. Ours: the slowest usual rate is about ten a second."""


class Mode(StrEnum):
    """What the pedal does; the values of the setting ``push_to_talk``."""

    OFF = "off"
    """Hands-free: a press cuts in when the tool talks."""
    HOLD = "hold"
    """Heard while it is down."""
    TOGGLE = "toggle"
    """One press begins, the next ends."""


class Pedal:
    """Makes pedal-down and pedal-up of key presses. Pure: the time is always given.

    A press that follows so soon that a key held down explains it is taken as a repeat.

    Args:
        mode: what the pedal does.
    """

    def __init__(self, mode: Mode) -> None:
        self._mode = mode
        self._down = False
        self._held_until_s = float("-inf")

    @property
    def watching(self) -> bool:
        """True while time alone may bring a release, so that somebody must call :meth:`wait`."""
        return self._mode is Mode.HOLD and self._down

    def press(self, at_s: float) -> tuple[Action, ...]:
        """The key came, for the first time or again.

        Args:
            at_s: now, on any clock that only runs forward.
        """
        if at_s <= self._held_until_s:
            self._held_until_s = at_s + NEXT_REPEAT_S
            return ()
        released = self.wait(at_s)
        self._held_until_s = at_s + FIRST_REPEAT_S
        return (*released, *self._pressed())

    def wait(self, at_s: float) -> tuple[Action, ...]:
        """Nothing came; the repeats may have stopped long enough ago to be a release."""
        if not self.watching or at_s <= self._held_until_s:
            return ()
        self._down = False
        return (Action.PEDAL_UP,)

    def _pressed(self) -> tuple[Action, ...]:
        if self._mode is Mode.OFF:
            return (Action.PEDAL_DOWN, Action.PEDAL_UP)
        self._down = self._mode is Mode.HOLD or not self._down
        return (Action.PEDAL_DOWN,) if self._down else (Action.PEDAL_UP,)
