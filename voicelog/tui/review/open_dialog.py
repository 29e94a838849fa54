"""What is unresolved, to go to."""

from __future__ import annotations

from collections.abc import Sequence
from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.content import Content

from voicelog.domain.inert import inert
from voicelog.tongue import to_word, worded
from voicelog.tui.review.dialog import LONGEST, Dialog
from voicelog.tui.review.rows import Row, Rows


class OpenDialog(Dialog[int]):
    """Gives back the number of a point, from 0.

    Args:
        points: as sentences, the worst first; at least one.
    """

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("enter", "take", to_word("goes to its entry"), priority=True)
    ]

    def __init__(self, points: Sequence[str]) -> None:
        super().__init__(worded("OPEN POINTS: {number}", number=len(points)))
        self._points = points

    def body(self) -> ComposeResult:
        """A row for each."""
        yield Rows([Row(Content(f"– {inert(text, LONGEST)}")) for text in self._points])

    def on_rows_picked(self, event: Rows.Picked) -> None:
        """With the mouse."""
        self.take(event.at)

    def action_take(self) -> None:
        """The row that is highlighted."""
        at = self.query_one(Rows).highlighted
        if at is not None:
            self.take(at)
