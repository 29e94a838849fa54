"""Where a whole run of entries is to stand instead."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from functools import partial
from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import VerticalScroll
from textual.widgets import Static

from voicelog.domain.slot import Slots, SlotValue
from voicelog.tongue import to_word, worded, worded_many
from voicelog.tui.review.choices import Choose, not_listed
from voicelog.tui.review.dialog import Dialog, Trouble, lines
from voicelog.tui.review.rows import Row, Rows, row
from voicelog.tui.review.slot_dialog import KEYS, title_of
from voicelog.tui.review.value_dialog import Chosen, ValueDialog

AS_IT_IS = to_word("as it is")
_WIDTH = 22


class PlaceDialog(Dialog[Slots]):
    """Gives back the slots of the place that change; those left alone stay as they are.

    Args:
        entries: what moves, a line each.
        choose: the slots that can be changed, each with the search for its values.
    """

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("enter", "take", to_word("moves them"), priority=True),
        Binding("space", "change", to_word("changes the marked row"), priority=True),
        Binding("pagedown", "scroll_entries(4)", "Down", show=False, priority=True),
        Binding("pageup", "scroll_entries(-4)", "Up", show=False, priority=True),
    ]
    HINT = to_word("letters change theirs")

    def __init__(self, entries: Sequence[str], choose: Mapping[str, Choose]) -> None:
        super().__init__(worded_many("MOVE ONE ENTRY", "MOVE {count} ENTRIES", len(entries)))
        self._entries, self._choose = entries, choose
        self._place: dict[str, SlotValue] = {}

    def body(self) -> ComposeResult:
        """What moves, and a row for each slot of the place."""
        with VerticalScroll(classes="-scrolls", can_focus=False) as moving:
            moving.border_title = worded("they move together")
            yield Static(lines(self._entries))
        yield Rows(self._rows())
        yield Trouble()

    def _rows(self) -> list[Row]:
        width = max(_WIDTH, *(len(title_of(slot)) for slot in self._choose))
        return [
            row(KEYS.get(slot, ""), title_of(slot), self._title(slot), width=width)
            for slot in self._choose
        ]

    def _title(self, slot: str) -> str:
        """The new value by its name on the screen."""
        if slot not in self._place:
            return worded(AS_IT_IS)
        value = self._place[slot]
        return next((c.title for c in self._choose[slot]("") if c.value == value), str(value))

    def on_rows_picked(self, event: Rows.Picked) -> None:
        """A letter changes its row."""
        self._ask(event.at)

    def action_change(self) -> None:
        """The row that is highlighted."""
        self._ask(self.query_one(Rows).highlighted or 0)

    def _ask(self, at: int) -> None:
        slot = list(self._choose)[at]
        title = title_of(slot)
        dialog = ValueDialog(
            slot, title, self._title(slot), self._choose[slot], partial(not_listed, title),
            drop=worded(AS_IT_IS),
        )  # fmt: skip
        self.app.push_screen(dialog, partial(self._picked, slot))

    def _picked(self, slot: str, chosen: Chosen | None) -> None:
        """A new value for a slot; None where that was left with Escape."""
        if chosen is None:
            return
        if chosen.value is None:
            self._place.pop(slot, None)
        else:
            self._place[slot] = chosen.value
        rows = self.query_one(Rows)
        rows.put(self._rows(), at=rows.highlighted)
        self.complain("")

    def action_scroll_entries(self, by: int) -> None:
        """Go through what moves; the arrows belong to the rows."""
        self.query_one(".-scrolls").scroll_relative(y=by, animate=False)

    def action_take(self) -> None:
        """The new place, unless nothing of it would change."""
        if self._place:
            self.take(dict(self._place))
        else:
            self.complain(worded("Nothing would change yet. Choose a place or a side"))
