"""A sentence typed anew, and how it would be read."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import VerticalScroll
from textual.content import Content
from textual.timer import Timer
from textual.widgets import Input, Static

from voicelog.errors import VoicelogError
from voicelog.tui.review.dialog import Dialog, Trouble, lines
from voicelog.tui.review.field import Field

WAIT_S = 0.15
"""So long the typing rests before the sentence is read; ours."""


@dataclass(frozen=True, slots=True)
class Said:
    """What is to be read in place of what was heard.

    Args:
        text: the sentence; empty for ``dictate``.
        dictate: it is to be spoken instead.
    """

    text: str
    dictate: bool = False


class SentenceDialog(Dialog[Said]):
    """The sentence as it was heard, to be mended.

    Args:
        title: stands in the frame.
        heard: the words so far; may be empty.
        preview: how a sentence would be read, in lines; may raise `VoicelogError`.
        dictate: offer to speak it instead.
        wait_s: so long the typing rests before it is read.
    """

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("enter", "take", "takes it", priority=True),
        Binding("ctrl+r", "dictate", "speak it instead", priority=True),
        Binding("down,pagedown", "scroll_reading(1)", "Down", show=False),
        Binding("up,pageup", "scroll_reading(-1)", "Up", show=False),
    ]

    def __init__(
        self,
        title: str,
        heard: str,
        *,
        preview: Callable[[str], Sequence[str]],
        dictate: bool,
        wait_s: float = WAIT_S,
    ) -> None:
        super().__init__(title)
        self._heard, self._preview, self._dictate = heard, preview, dictate
        self._wait_s = wait_s
        self._timer: Timer | None = None

    def body(self) -> ComposeResult:
        """What was heard, the line, how it would be read."""
        if self._heard:
            yield Static(lines([f"heard “{self._heard}”"]))
        yield Field("sentence", "sentence", self._heard, example="type what was said")
        yield Trouble()
        with VerticalScroll(classes="-scrolls", can_focus=False) as reading:
            reading.border_title = "read now as"
            yield Static(id="reading")

    def on_mount(self) -> None:
        """Read what is there."""
        self._read()

    def on_input_changed(self, event: Input.Changed) -> None:
        """Read it once the typing rests."""
        event.stop()
        if self._timer is not None:
            self._timer.stop()
        self._timer = self.set_timer(self._wait_s, self._read)

    def _read(self) -> None:
        trouble: str | VoicelogError = ""
        told: Sequence[str] = ()
        try:
            told = self._preview(self._typed) if self._typed else ()
        except VoicelogError as fault:
            trouble = fault
        self.query_one("#reading", Static).update(lines(told) if told else Content("nothing"))
        self.complain(trouble)

    @property
    def _typed(self) -> str:
        return self.query_one(Field).value.strip()

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:  # noqa: ARG002
        """Speaking is offered only where there is a microphone."""
        return action != "dictate" or self._dictate

    def action_scroll_reading(self, by: int) -> None:
        """Go through a long reading while the line has the focus."""
        self.query_one(".-scrolls").scroll_relative(y=by, animate=False)

    def action_dictate(self) -> None:
        """Speak it instead."""
        self.take(Said("", dictate=True))

    def action_take(self) -> None:
        """What stands on the line, unless it is nothing."""
        if self._typed:
            self.take(Said(self._typed))
        else:
            self.complain("There is no sentence yet. Type it, or leave with Esc")
