"""The help screen: keys, words, sounds, signs. It closes by itself when something is asked."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import VerticalScroll
from textual.content import Content
from textual.screen import Screen
from textual.widgets import Static

from voicelog.domain.signal import MEANINGS
from voicelog.tui.actions import Deed
from voicelog.tui.looks import CAVITY, GRADES, KINDS, SEEN
from voicelog.tui.plan_view import HERE

_FIRST = 26
"""Columns of names."""


class HelpScreen(Screen[None]):
    """All there is to know, on one page.

    Args:
        deeds: everything that can be asked for, with the words of the grammar in force.
    """

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape,q,enter", "dismiss", "Close", id="help-close")
    ]

    def __init__(self, deeds: Sequence[Deed]) -> None:
        super().__init__()
        self._deeds = deeds

    def compose(self) -> ComposeResult:
        """One page to scroll."""
        with VerticalScroll(id="help") as page:
            page.border_title = "HELP"
            page.border_subtitle = "Esc closes"
            yield Static(Content("\n").join(self.page()))

    def page(self) -> Iterator[Content]:
        """Its lines."""
        yield help_title("KEYS AND WORDS")
        yield from self.keys()
        yield help_title("SOUNDS")
        for signal, meaning in MEANINGS.items():
            yield help_row(str(signal).replace("-", " "), meaning)
        yield help_title("SIGNS OF THE PLAN AND THE LIST")
        for look in [*SEEN.values(), CAVITY, *GRADES.values(), *KINDS.values()]:
            yield Content.assemble(
                (f" {look.sign} ", look.style), " " * (_FIRST - 3), look.word.lower()
            )
        yield Content.assemble((f" {HERE} ", "bold"), " " * (_FIRST - 3), "you are here")

    def keys(self) -> Iterator[Content]:
        """Every deed with its keys and words."""
        for deed in self._deeds:
            spoken = f"  say “{deed.spoken}”" if deed.spoken else ""
            yield help_row(deed.shown_keys, f"{deed.title}: {deed.does}{spoken}")
        yield help_row("Ctrl+P", "Palette: all of these by name")


def help_title(text: str) -> Content:
    """The heading of a part."""
    return Content.styled(f"\n{text}", "bold $accent")


def help_row(name: str, meaning: str) -> Content:
    """A name in its column, and what it means."""
    return Content.assemble((f"{name:<{_FIRST}}", "bold"), meaning)
