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


ANSWER_S = 3.0
"""So long the answer to a key covers a serious notice."""


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
        self._waiting = self._covered = ""
        self._covered_until_s = float("-inf")

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
        self._waiting = self._covered = ""
        self.text, self.serious = told, serious

    def answer(self, text: str) -> None:
        """Say what a key came to, at once; a serious notice stands there again after it."""
        if self.serious:
            self._covered, self._covered_until_s = self.text, self._clock() + ANSWER_S
        self.text, self.serious = inert(text, 400), False

    def settle(self) -> None:
        """Show what had to wait, or was covered, when its time has come."""
        if self._covered and self._clock() >= self._covered_until_s:
            self.text, self.serious, self._covered = self._covered, True, ""
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
