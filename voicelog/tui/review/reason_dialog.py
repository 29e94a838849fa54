"""Why: asked before something is done that has to be accounted for."""

from __future__ import annotations

from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.widgets import Input, Static

from voicelog.tongue import to_word, worded
from voicelog.tui.review.dialog import Dialog, Trouble, lines
from voicelog.tui.review.field import Field

MISSING = to_word("A reason is needed. Type a few words, or leave with Esc")


class ReasonDialog(Dialog[str]):
    """Gives back the typed reason, which is never empty.

    Args:
        question: what would happen, in one sentence.
        detail: more about it; may be empty.
    """

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("enter", "take", to_word("does it, with this reason"), priority=True)
    ]

    def __init__(self, question: str, detail: str = "") -> None:
        super().__init__(worded("WHY?"))
        self._question, self._detail = question, detail

    def body(self) -> ComposeResult:
        """The question, what more there is to it, the line."""
        yield Static(lines([self._question], "bold"))
        if self._detail:
            yield Static(lines(self._detail.splitlines()))
        yield Field("why", worded("reason"), example=worded("it is kept in the log with your name"))
        yield Trouble()

    def on_input_changed(self, event: Input.Changed) -> None:
        """Whoever types has understood what is missing."""
        event.stop()
        self.complain("")

    def action_take(self) -> None:
        """The reason, unless there is none."""
        why = self.query_one(Field).value.strip()
        if why:
            self.take(why)
        else:
            self.complain(worded(MISSING))
