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
from voicelog.tongue import to_word, worded
from voicelog.tui.review.dialog import Dialog, Trouble, lines
from voicelog.tui.review.field import Field

WAIT_S = 0.15
"""So long the typing rests before the sentence is read; ours."""


@dataclass(frozen=True, slots=True)
class Said:
    """What is to be read in place of what was heard.

    Args:
        text: the sentence; for ``dictate``, what stood there.
        dictate: it is to be spoken instead.
    """

    text: str
    dictate: bool = False


class SentenceDialog(Dialog[Said]):
    """The sentence as it was heard, to be mended.

    Args:
        title: stands in the frame.
        heard: the words so far; may be empty.
        text: stands on the line at first.
        trouble: why it could not be spoken; empty where nobody tried.
        preview: how a sentence would be read, in lines; may raise `VoicelogError`.
        wait_s: so long the typing rests before it is read.
    """

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("enter", "take", to_word("takes it"), priority=True),
        Binding("ctrl+r", "dictate", to_word("speak it instead"), priority=True),
        Binding("down,pagedown", "scroll_reading(1)", "Down", show=False),
        Binding("up,pageup", "scroll_reading(-1)", "Up", show=False),
    ]

    def __init__(
        self,
        title: str,
        heard: str,
        *,
        text: str,
        preview: Callable[[str], Sequence[str]],
        trouble: str = "",
        wait_s: float = WAIT_S,
    ) -> None:
        super().__init__(title)
        self._heard, self._text, self._preview = heard, text, preview
        self._trouble = trouble
        self._wait_s = wait_s
        self._timer: Timer | None = None

    def body(self) -> ComposeResult:
        """What was heard, the line, how it would be read."""
        if self._heard:
            yield Static(lines([worded("heard “{words}”", words=self._heard)]))
        yield Field(
            "sentence", worded("sentence"), self._text, example=worded("type what was said")
        )
        yield Trouble()
        with VerticalScroll(classes="-scrolls", can_focus=False) as reading:
            reading.border_title = worded("read now as")
            yield Static(id="reading")

    def on_mount(self) -> None:
        """Read what is there; why it could not be spoken stays until somebody types."""
        self._read()
        if self._trouble:
            self.complain(self._trouble)

    def on_input_changed(self, event: Input.Changed) -> None:
        """Read it once the typing rests."""
        event.stop()
        if event.value == self._text and self._timer is None:
            return  # the line as it was put there, which is read already
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
        shown = lines(told) if told else Content(worded("nothing"))
        self.query_one("#reading", Static).update(shown)
        self.complain(trouble)

    @property
    def _typed(self) -> str:
        return self.query_one(Field).value.strip()

    def action_scroll_reading(self, by: int) -> None:
        """Go through a long reading while the line has the focus."""
        self.query_one(".-scrolls").scroll_relative(y=by, animate=False)

    def action_dictate(self) -> None:
        """Speak it instead."""
        self.take(Said(self._typed, dictate=True))

    def action_take(self) -> None:
        """What stands on the line, unless it is nothing."""
        if self._typed:
            self.take(Said(self._typed))
        else:
            self.complain(worded("There is no sentence yet. Type it, or leave with Esc"))
