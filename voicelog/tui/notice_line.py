"""What a person should know about the machine: it stays until something else has to be said, and takes
as many lines as it needs: its end says what to do.
"""

from __future__ import annotations

from collections.abc import Callable

from textual.content import Content
from textual.reactive import reactive
from textual.widget import Widget

from voicelog.domain.inert import inert

SERIOUS_S = 20.0
"""So long a serious notice stays, whatever else comes in; then the newest other one. Ours."""


class NoticeLine(Widget):
    """The newest notice; a serious one holds its place for a while.

    Args:
        clock: seconds that only run forward.
    """

    text: reactive[str] = reactive("", layout=True)
    serious: reactive[bool] = reactive(False)

    def __init__(self, clock: Callable[[], float]) -> None:
        super().__init__()
        self._clock = clock
        self._held_until_s = float("-inf")
        self._waiting = ""

    def on_mount(self) -> None:
        """Look once a second whether a serious notice has stood long enough."""
        self.set_interval(1.0, self.settle)

    def show(self, text: str, *, serious: bool = False) -> None:
        """Say something; behind a serious notice it has to wait, unless it is serious itself."""
        told = inert(text, 400)
        if serious:
            self._held_until_s = self._clock() + SERIOUS_S
        elif self._clock() < self._held_until_s:
            self._waiting = told
            return
        self._waiting = ""
        self.text, self.serious = told, serious

    def settle(self) -> None:
        """Show what had to wait, when its time has come."""
        if self._waiting and self._clock() >= self._held_until_s:
            self.show(self._waiting)

    def watch_serious(self, serious: bool) -> None:
        """Serious ones stand on the colour of alarms."""
        self.set_class(serious, "-tone-alarm")

    def render(self) -> Content:
        """The notice with its sign: ``!`` when it is serious."""
        if not self.text:
            return Content("")
        return Content(f"{'!!' if self.serious else 'i'}  {self.text}")
