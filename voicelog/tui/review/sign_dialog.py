"""Signing a log: what is unresolved, who signs, and why all the same."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import VerticalScroll
from textual.content import Content
from textual.widgets import Input, Static

from voicelog.tongue import to_word, worded
from voicelog.tui.review.dialog import Dialog, Trouble, lines
from voicelog.tui.review.field import Field

MEANING = to_word("A signature shows later changes. It certifies nothing about the vehicle.")


@dataclass(frozen=True, slots=True)
class Signed:
    """Who signs, and why.

    Args:
        by: a name, never empty.
        why: the reason; empty only where nothing is open.
    """

    by: str
    why: str = ""


class SignDialog(Dialog[Signed]):
    """Asks for a name, and for a reason where something is open.

    Args:
        by: the name at first; may be empty.
        open_points: what is unresolved, as sentences.
        summary: what is signed, in a few lines.
    """

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("enter", "take", to_word("signs"), priority=True),
        Binding("down", "scroll_points(1)", "Down", show=False),
        Binding("up", "scroll_points(-1)", "Up", show=False),
        Binding("pagedown", "scroll_points(6)", "Further down", show=False),
        Binding("pageup", "scroll_points(-6)", "Further up", show=False),
    ]

    def __init__(self, by: str, open_points: Sequence[str], summary: Sequence[str]) -> None:
        super().__init__(worded("SIGN"))
        self._by, self._open, self._summary = by, open_points, summary
        self.HINT = to_word("Tab next field  ·  ↑ ↓ what is open") if open_points else ""

    def body(self) -> ComposeResult:
        """What is signed, what is open, the name, the reason."""
        if self._summary:
            yield Static(lines(self._summary))
        with VerticalScroll(classes="-scrolls", can_focus=False) as points:
            points.border_title = (
                worded("open: {number}", number=len(self._open)) if self._open else worded("open")
            )
            yield Static(_points(self._open))
        yield Field("by", worded("name"), self._by, example=worded("who signs"))
        if self._open:
            yield Field(
                "why",
                worded("reason for signing all the same"),
                example=worded("it is kept in the log"),
            )
        yield Trouble()
        yield Static(Content(worded(MEANING)))

    def on_mount(self) -> None:
        """The first field that is empty."""
        empty = (field for field in self.query(Field) if not field.value)
        next(empty, self.query_one("#by", Field)).focus()

    def on_input_changed(self, event: Input.Changed) -> None:
        """Whoever types has understood what is missing."""
        event.stop()
        self.complain("")

    def action_scroll_points(self, by: int) -> None:
        """Go through what is open while a field has the focus."""
        self.query_one(".-scrolls").scroll_relative(y=by, animate=False)

    def action_take(self) -> None:
        """Sign, unless the name or a reason that is needed is missing."""
        typed = {field.id: field.value.strip() for field in self.query(Field)}
        missing = next((name for name, text in typed.items() if not text), None)
        if missing is None:
            self.take(Signed(typed["by"], typed.get("why", "")))
            return
        self.query_one(f"#{missing}", Field).focus()
        self.complain(worded(_MISSING[missing]))


_MISSING: dict[str | None, str] = {
    "by": to_word("A name is needed. Type who signs"),
    "why": to_word("Something is open. Type why it is signed all the same, or leave with Esc"),
}


def _points(texts: Sequence[str]) -> Content:
    """Each with a dash, so that a wrapped one is no two."""
    return lines(
        [f"– {text}" for text in texts] or [worded("nothing: every open point is settled")]
    )
