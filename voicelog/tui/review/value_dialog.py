"""A new value for a slot: picked from the vocabulary while one types, or a number with its unit."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.content import Content
from textual.widgets import Input, Static

from voicelog.domain.inert import inert
from voicelog.domain.slot import SLOTS, SlotValue
from voicelog.errors import VoicelogError
from voicelog.tongue import to_word, worded
from voicelog.tui.review.choices import Choice, Choose
from voicelog.tui.review.dialog import LONGEST, Dialog, Trouble, quoted
from voicelog.tui.review.field import Field
from voicelog.tui.review.rows import Row, Rows, row

DROP = to_word("not known (drop it)")
_WIDTH = 24
"""Columns of the titles."""
_EXAMPLES = {
    "length": "4.8 mm, 3/16 in, 40 thou", "percent": "15", "count": "3",
    "word": to_word("type a few letters, or go down the list"), "text": to_word("type it"),
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class Chosen:
    """What the slot is to be.

    Args:
        value: of the choice that was picked; None where something was typed, and for ``drop``.
        text: what was typed and found right; empty where a choice was picked.
        drop: the slot is not known any more.
    """

    value: SlotValue | None = None
    text: str = ""
    drop: bool = False


class ValueDialog(Dialog[Chosen]):
    """Choices under the line where a list is given; else the typed text is checked as it grows.

    Args:
        slot: its name, which decides the example on the empty line.
        title: its name on the screen.
        now: its value in words; empty where it is not known.
        choose: what fits the typed text, the best first; everything for an empty one. None where the
            value is not one of a list.
        check: the typed text as a value in words; raises `VoicelogError` where it is none. Where a
            list is given it is asked only for what the list lacks.
        drop: the row that gives no value; empty where there has to be one, "not known" when left out.
    """

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("enter", "take", to_word("takes it"), priority=True),
        Binding("down", "step(1)", "Down", show=False),
        Binding("up", "step(-1)", "Up", show=False),
        Binding("pagedown", "step(8)", "Further down", show=False),
        Binding("pageup", "step(-8)", "Further up", show=False),
        Binding("ctrl+d", "drop", to_word("no value"), priority=True),
    ]
    HINT = to_word("↑ ↓ the list")

    def __init__(
        self,
        slot: str,
        title: str,
        now: str,
        choose: Choose | None,
        check: Callable[[str], str],
        *,
        drop: str | None = None,
    ) -> None:
        super().__init__(title.upper())
        self._now, self._check = now, check
        self._drop = worded(DROP) if drop is None else drop
        self._choose = choose or (lambda _: ())
        self._listed = choose is not None
        kind = SLOTS[slot].kind if slot in SLOTS else "text"
        self._example = worded(
            _EXAMPLES["word" if self._listed else kind if kind != "name" else "text"]
        )
        self._choices: tuple[Choice, ...] = ()
        self._valid = False

    def body(self) -> ComposeResult:
        """What stands there, the line, what it amounts to, the list."""
        now = inert(self._now, LONGEST) or worded("not known")
        yield Static(Content.assemble(worded("now"), "  ", (now, "bold")))
        yield Field("typed", worded("new value"), example=self._example)
        yield Static(id="answer")
        yield Trouble()
        yield Rows(at=None, takes_focus=False)

    def on_mount(self) -> None:
        """Everything there is, with what stands there now highlighted."""
        self._answer("")
        rows = self.query_one(Rows)
        rows.styles.min_height = min(rows.option_count + 2, self.app.size.height * 6 // 10)

    def on_input_changed(self, event: Input.Changed) -> None:
        """Search and check anew with every letter."""
        event.stop()
        self._answer(event.value.strip())

    def _answer(self, typed: str) -> None:
        trouble, words, self._choices = self._understood(typed)
        self._valid = bool(words)
        self.query_one("#answer", Static).update(Content(f"=  {inert(words, LONGEST)}"))
        self.query_one("#answer").display = bool(words)
        self.complain(trouble)
        drop = [row("", self._drop)] if self._drop else []
        lines = [*map(_line, self._choices), *drop]
        self.query_one(Rows).put(lines, at=self._first(typed))
        self.query_one(Rows).display = bool(lines)

    def _understood(self, typed: str) -> tuple[str | VoicelogError, str, tuple[Choice, ...]]:
        """What is wrong with it, what it amounts to, what it may be."""
        try:
            choices = tuple(self._choose(typed))
            if choices or not typed:
                return "", "", choices
            return "", self._check(typed) or typed, ()
        except VoicelogError as fault:
            return fault, "", ()

    def _first(self, typed: str) -> int | None:
        """The best choice; before anything is typed, the one that stands there now."""
        if typed:
            return 0 if self._choices else None
        now = self._now.casefold()
        titles = [choice.title.casefold() for choice in self._choices]
        return titles.index(now) if now in titles else None

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:  # noqa: ARG002
        """A slot that has to have a value cannot be dropped."""
        return action != "drop" or bool(self._drop)

    def on_rows_picked(self, event: Rows.Picked) -> None:
        """With the mouse."""
        self._take_row(event.at)

    def action_step(self, by: int) -> None:
        """Go through the list from the line; at its ends it stays."""
        rows = self.query_one(Rows)
        if not rows.option_count:
            return
        at = -1 if rows.highlighted is None and by > 0 else rows.highlighted or 0
        rows.highlighted = max(0, min(rows.option_count - 1, at + by))

    def action_drop(self) -> None:
        """The slot is not known."""
        self.take(Chosen(drop=True))

    def action_take(self) -> None:
        """The highlighted row, else what was typed, if it is something."""
        at, typed = self.query_one(Rows).highlighted, self.query_one(Field).value.strip()
        if at is not None:
            self._take_row(at)
        elif self._valid:
            self.take(Chosen(text=typed))
        elif not typed:
            self.complain(worded("Nothing is chosen yet. Type a value, or go down the list"))

    def _take_row(self, at: int) -> None:
        if at < len(self._choices):
            self.take(Chosen(value=self._choices[at].value))
        else:
            self.action_drop()


def _line(choice: Choice) -> Row:
    names = (name for name in choice.said if name.casefold() != choice.title.casefold())
    return row("", choice.title, ", ".join(quoted(name) for name in names), width=_WIDTH, style="")
