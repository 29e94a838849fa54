"""The help screen: keys, words, sounds, signs. It closes by itself when something is asked."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from typing import ClassVar

from textual import events
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import VerticalScroll
from textual.content import Content
from textual.screen import Screen
from textual.widgets import Static

from voicelog.domain.signal import MEANINGS
from voicelog.tongue import to_word, worded
from voicelog.tui.actions import Deed
from voicelog.tui.looks import CAVITY, GRADES, KINDS, SEEN, Look
from voicelog.tui.plan_view import YOU

_FIRST = 26
"""Columns of names."""


class HelpPage(Static):
    """Lines whose meanings go on below themselves where they are too long.

    Args:
        lines: titles, and rows with a name in their first columns.
    """

    def __init__(self, lines: Iterable[Content]) -> None:
        super().__init__()
        self._rows = tuple(lines)

    def on_resize(self, event: events.Resize) -> None:
        """Wrap anew."""
        width = event.size.width
        self.update(Content("\n").join(_hung(line, width) for line in self._rows))


class HelpScreen(Screen[None]):
    """All there is to know, on one page.

    Args:
        deeds: everything that can be asked for, with the words of the grammar in force.
    """

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape,q,enter", "dismiss", to_word("Close"), id="help-close")
    ]

    def __init__(self, deeds: Sequence[Deed]) -> None:
        super().__init__()
        self._deeds = deeds

    def compose(self) -> ComposeResult:
        """One page to scroll."""
        with VerticalScroll(id="help") as page:
            page.border_title = worded("HELP")
            page.border_subtitle = worded("Esc closes")
            yield HelpPage(self.page())

    def page(self) -> Iterator[Content]:
        """Its lines."""
        yield help_title(worded("KEYS AND WORDS"))
        yield from self.keys()
        yield help_title(worded("SOUNDS"))
        for signal, meaning in MEANINGS.items():
            yield help_row(str(signal).replace("-", " "), worded(meaning))
        yield help_title(worded("SIGNS OF THE PLAN AND THE LIST"))
        for look in [*SEEN.values(), CAVITY, *GRADES.values(), *KINDS.values()]:
            yield help_sign(look)
        yield help_sign(YOU)

    def keys(self) -> Iterator[Content]:
        """Every deed with its keys and words."""
        for deed in self._deeds:
            does = f"{worded(deed.title)}: {worded(deed.does)}"
            said = "  " + worded("say “{spoken}”", spoken=deed.spoken) if deed.spoken else ""
            yield help_row(deed.shown_keys, does + said)
        yield help_row("Ctrl+P", worded("Palette: all of these by name"))


def help_title(text: str) -> Content:
    """The heading of a part."""
    return Content.styled(f"\n{text}", "bold $accent")


def _hung(line: Content, width: int) -> Content:
    if line.cell_length <= width:
        return line
    parts = line[_FIRST:].wrap(max(12, width - _FIRST))
    return Content("\n").join([line[:_FIRST] + parts[0], *(" " * _FIRST + p for p in parts[1:])])


def help_row(name: str, meaning: str) -> Content:
    """A name in its column, and what it means."""
    return Content.assemble((f"{name:<{_FIRST}}", "bold"), meaning)


def help_sign(look: Look) -> Content:
    """A sign on its colours, and what it stands for."""
    return Content.assemble((f" {look.sign} ", look.style), " " * (_FIRST - 3), look.name)
