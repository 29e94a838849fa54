"""What all dialogs of the review screen share: frame, title, key line, and Escape that does nothing."""

from __future__ import annotations

from collections.abc import Iterable
from typing import ClassVar, Generic, TypeVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical
from textual.content import Content
from textual.screen import ModalScreen
from textual.widgets import Static

from voicelog.domain.inert import inert
from voicelog.errors import VoicelogError
from voicelog.tongue import to_word, worded
from voicelog.tui.actions import key_name

LONGEST = 240
"""Characters of one text that are shown; the log keeps them all."""

_DOWN: list[tuple[int, str]] = [(0, "-low"), (36, "-high")]
"""Lines of the screen from which on there is room to spare."""

T = TypeVar("T")


class Trouble(Static):
    """A line that is there only while something is wrong."""

    def on_mount(self) -> None:
        """Nothing is, at first."""
        self.display = bool(self.content)

    def say(self, text: str) -> None:
        """What is wrong; empty where nothing is."""
        self.update(Content(f"! {inert(text, LONGEST)}" if text else ""))
        self.display = bool(text)


class Dialog(ModalScreen[T | None], Generic[T]):
    """Asks for one thing and hands back a plain result, or None where it was left with Escape.

    A dialog knows no log: what it needs comes with it, and what it gives back is for whoever asked.
    The shown bindings of a subclass are told at its foot.

    Args:
        title: stands in the frame.
    """

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape", "leave", to_word("leaves"), priority=True)
    ]
    VERTICAL_BREAKPOINTS = _DOWN
    HINT: str = ""
    """Keys that are no bindings, for example the letters of a list; marked for the catalogue."""

    def __init__(self, title: str) -> None:
        super().__init__()
        self._heading = title

    def compose(self) -> ComposeResult:
        """The frame around what the subclass shows."""
        with Vertical(classes="dialog-frame") as frame:
            frame.border_title = Content(f" {inert(self._heading, LONGEST)} ")
            yield from self.body()
            yield Static(id="keys")

    def body(self) -> ComposeResult:
        """What stands between the title and the keys."""
        yield from ()

    def on_mount(self) -> None:
        """Tell the keys; those that are disabled are known only now."""
        self.query_one("#keys", Static).update(self._keys())

    def complain(self, trouble: str | VoicelogError) -> None:
        """Say what is wrong, where the body has its `Trouble`; an empty text takes it away."""
        self.query_one(Trouble).say(str(trouble))

    def take(self, result: T) -> None:
        """Close with this result; a second key that was pressed as quickly does nothing more."""
        if self.is_current:
            self.dismiss(result)

    def action_leave(self) -> None:
        """Close without a result."""
        if self.is_current:
            self.dismiss(None)

    def _keys(self) -> Content:
        """Enter first, Escape last; what is disabled is left out."""
        own = [b.binding for b in self.active_bindings.values() if b.node is self]
        shown = sorted((b for b in own if b.show), key=_rank)
        told = [_key(b.key_display or key_name(b.key), worded(b.description)) for b in shown]
        if self.HINT:
            told.insert(-1, Content(worded(self.HINT)))
        return Content("  ·  ").join(told)


def lines(texts: Iterable[str], style: str = "") -> Content:
    """Texts from outside, made harmless, one under the other."""
    return Content("\n").join(Content.styled(inert(text, LONGEST), style) for text in texts)


def quoted(text: str) -> str:
    """Words as they were heard."""
    return f"“{inert(text, LONGEST)}”"


def _rank(binding: Binding) -> int:
    return {"enter": 0, "escape": 2}.get(binding.key, 1)


def _key(name: str, does: str) -> Content:
    return Content.assemble((name, "bold $accent"), " ", does)
