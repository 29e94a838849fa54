"""A list to pick from, with a letter or digit for each row."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from textual import events
from textual.content import Content
from textual.message import Message
from textual.widgets import OptionList

from voicelog.domain.inert import inert


@dataclass(frozen=True, slots=True)
class Row:
    """One row.

    Args:
        line: what it shows.
        key: the character that picks it; empty where there is none.
    """

    line: Content
    key: str = ""


class Rows(OptionList):
    """Rows, one of them highlighted.

    Args:
        rows: at first.
        at: the row that is highlighted; None for none.
        takes_focus: False where the keys go to a field above it.
    """

    class Picked(Message):
        """A row was picked with its key or the mouse.

        Args:
            at: its number, from 0.
        """

        def __init__(self, at: int) -> None:
            self.at = at
            super().__init__()

    def __init__(
        self, rows: Sequence[Row] = (), *, at: int | None = 0, takes_focus: bool = True
    ) -> None:
        super().__init__(markup=False)
        self.can_focus = takes_focus
        self._keys: dict[str, int] = {}
        self.put(rows, at=at)

    def put(self, rows: Sequence[Row], *, at: int | None) -> None:
        """Show these rows in place of the others."""
        self._keys = {row.key: n for n, row in enumerate(rows) if row.key}
        self.set_options([row.line for row in rows])
        self.highlighted = at if rows else None

    def on_key(self, event: events.Key) -> None:
        """A row's key picks it."""
        at = self._keys.get(event.character or "")
        if at is not None:
            event.stop()
            self._pick(at)

    def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        """So does the mouse."""
        event.stop()
        self._pick(event.option_index)

    def _pick(self, at: int) -> None:
        self.highlighted = at
        self.post_message(self.Picked(at))


def row(key: str, title: str, value: str = "", *, width: int = 0, style: str = "bold") -> Row:
    """A row with its key, what it is, and what stands there now.

    Args:
        key: the character that picks it; empty where there is none.
        title: what it is.
        value: what stands there now.
        width: columns of the title.
        style: of the value.
    """
    told = f"{inert(title, 120):<{width}}"
    first = (key or " ", "bold underline" if key else "")
    return Row(Content.assemble(first, "  ", told, "  ", (inert(value, 240), style)), key)
