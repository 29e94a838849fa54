"""What else the sound may have been: the runners-up as whole entries."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.content import Content

from voicelog.domain.inert import inert
from voicelog.tongue import to_word, worded
from voicelog.tui.looks import GRADES, sign_cell
from voicelog.tui.review.dialog import LONGEST, Dialog, quoted
from voicelog.tui.review.rows import Row, Rows


@dataclass(frozen=True, slots=True)
class AlternativeRow:
    """One entry that could stand instead.

    Args:
        text: the words it was read from.
        entry_words: the entry in words, place first.
        grade: what it would be graded; empty where it has none.
    """

    text: str
    entry_words: str
    grade: str = ""


class AlternativesDialog(Dialog[int]):
    """Gives back the number of the runner-up, from 0.

    Args:
        rows: the likeliest first; at least one.
    """

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("enter", "take", to_word("takes it"), priority=True)
    ]
    HINT = to_word("a digit takes that one")

    def __init__(self, rows: Sequence[AlternativeRow]) -> None:
        super().__init__(worded("WHAT ELSE IT MAY HAVE BEEN"))
        self._rows = rows

    def body(self) -> ComposeResult:
        """Two lines for each: the entry, and its words."""
        yield Rows([_line(n, row) for n, row in enumerate(self._rows, 1)])

    def on_rows_picked(self, event: Rows.Picked) -> None:
        """A digit picks at once."""
        self.take(event.at)

    def action_take(self) -> None:
        """The row that is highlighted."""
        at = self.query_one(Rows).highlighted
        if at is not None:
            self.take(at)


def _line(number: int, row: AlternativeRow) -> Row:
    key = str(number) if number < 10 else ""
    look = GRADES.get(row.grade)
    grade = sign_cell(look, 12) if look else " " * 12
    line = Content.assemble(
        (key or " ", "bold underline" if key else ""), "  ", grade, "  ",
        (inert(row.entry_words, LONGEST), "bold"), "\n   ",
        worded("from {words}", words=quoted(row.text)),
    )  # fmt: skip
    return Row(line, key)
