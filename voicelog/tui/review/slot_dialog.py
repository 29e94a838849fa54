"""Which slot of an entry to edit."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.widgets import Static

from voicelog.domain.entry import Entry
from voicelog.domain.slot import SLOTS, VEHICLE_SLOTS
from voicelog.domain.slot_title import TITLES as OF_SLOTS
from voicelog.tongue import Worded, to_word, worded
from voicelog.tui.looks import KINDS
from voicelog.tui.review.dialog import Dialog, lines
from voicelog.tui.review.rows import Row, Rows, row

KIND, REASON = "kind", "reason"
"""Two things of an entry that are no slots but are chosen like them."""

KEYS: Mapping[str, str] = {
    "zone": "z", "ordinal": "o", "side": "s", "face": "f", "part": "p", "condition": "c",
    "layer": "y", "probe": "b", "method": "m", "surround": "u", "count": "q", "size_mm": "x",
    "width_mm": "w", "depth_mm": "d", "thickness_mm": "t", "nominal_mm": "i", "loss_percent": "l",
    "area_percent": "a", "mount_distance_mm": "e", "certainty": "h", "spoken_grade": "g",
    "landmark": "n", "vin": "v", "plate": "1", "paint_code": "2", "spelt": "3",
    "odometer": "4", "inspector": "5",
    KIND: "k", REASON: "r",
}  # fmt: skip
"""Slot to the key that picks it: always the same, whatever else is known."""

TITLES: Mapping[str, str] = {
    **OF_SLOTS, KIND: to_word("what it is"), REASON: to_word("why it was not seen"),
}  # fmt: skip
"""Slot to its name on the screen, marked for the catalogue."""


@dataclass(frozen=True, slots=True)
class SlotRow:
    """One slot that can be edited.

    Args:
        slot: its name in ``domain.slot``.
        title: its name on the screen; see ``TITLES``.
        value_in_words: what stands there now, with its unit; empty where it is not known.
    """

    slot: str
    title: str
    value_in_words: str = ""


def title_of(slot: str) -> Worded:
    """The name of a slot, in the language of whoever reads it; of a strange one, its own."""
    title = TITLES.get(slot, slot)
    return worded(title)


def slot_rows(entry: Entry, in_words: Mapping[str, str]) -> tuple[SlotRow, ...]:
    """A row for every slot that this entry can have; what was spelled only where it was.

    Args:
        entry: as it stands.
        in_words: the values of its known slots in words; one that is left out shows as it is.
    """
    usual = [slot for slot in SLOTS if slot not in VEHICLE_SLOTS or slot in entry.slots]
    told = {slot: in_words.get(slot, str(value)) for slot, value in entry.slots.items()}
    return tuple(SlotRow(slot, title_of(slot), told.get(slot, "")) for slot in usual)


class SlotDialog(Dialog[str]):
    """Gives back the name of the slot to edit, ``kind`` or ``reason``.

    Args:
        entry: as it stands; its kind and reason get rows of their own.
        rows: its slots; those that are known are listed first.
    """

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("enter", "take", to_word("edits it"), priority=True)
    ]
    HINT = to_word("the letter of a row edits that one")

    def __init__(self, entry: Entry, rows: Sequence[SlotRow]) -> None:
        super().__init__(worded("EDIT {entry}", entry=entry.id))
        self._entry = entry
        self._rows = sorted([*rows, *_own(entry)], key=lambda row: not row.value_in_words)

    def body(self) -> ComposeResult:
        """What was heard, and a row for each slot."""
        if self._entry.text:
            yield Static(lines([worded("heard “{words}”", words=self._entry.text)]))
        width = max(len(title_of(slot)) for slot in TITLES)
        yield Rows([_line(row, width) for row in self._rows])

    def on_rows_picked(self, event: Rows.Picked) -> None:
        """A letter picks at once."""
        self.take(self._rows[event.at].slot)

    def action_take(self) -> None:
        """The row that is highlighted."""
        at = self.query_one(Rows).highlighted
        if at is not None:
            self.take(self._rows[at].slot)


def _own(entry: Entry) -> tuple[SlotRow, ...]:
    kind = KINDS[entry.kind].name
    return SlotRow(KIND, title_of(KIND), kind), SlotRow(REASON, title_of(REASON), entry.reason)


def _line(shown: SlotRow, width: int) -> Row:
    return row(KEYS.get(shown.slot, ""), shown.title, shown.value_in_words or "–", width=width)
