"""Which entries are shown: filters that stack."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace
from functools import partial
from typing import Any, ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.content import Content
from textual.widgets import Static

from voicelog.domain.grade import Grade
from voicelog.domain.inert import inert
from voicelog.domain.slot import SIDES
from voicelog.review.sieve import UNPLACED, Sieve
from voicelog.tongue import to_word, worded
from voicelog.tui.looks import GRADES
from voicelog.tui.review.choices import Choice, Choose, Listed, among, listed, not_listed
from voicelog.tui.review.dialog import LONGEST, Dialog
from voicelog.tui.review.rows import Row, Rows, row
from voicelog.tui.review.value_dialog import Chosen, ValueDialog

_ONLY = (
    ("d", "doubtful", to_word("only doubtful")),
    ("u", "unsafe", to_word("only unsafe")),
    ("p", "no_photo", to_word("only without a photo that is needed")),
    ("a", "changed_after_signing", to_word("only changed after signing")),
    ("w", "withdrawn", to_word("withdrawn entries too")),
    ("r", "remarks", to_word("idle remarks too")),
)
"""Key, switch of the sieve, what it does."""
_PICKED = (
    ("z", "zone", to_word("place")),
    ("s", "side", to_word("side")),
    ("g", "grade", to_word("grade")),
)
"""Key, filter of the sieve, what it asks for."""
_TEXT, _CLEAR = (
    ("t", "text", to_word("with the words")),
    ("x", "clear", to_word("clear all filters")),
)
_NAMES = [name for _, name, _ in (*_ONLY, *_PICKED, _TEXT, _CLEAR)]
_WIDTH = 16
ANY = to_word("any")


class FilterDialog(Dialog[Sieve]):
    """Gives back the sieve as it was set.

    Args:
        sieve: the filters as they are.
        zones: the search for places; their values are zone ids.
        told: what a sieve lets through, in a sentence; told anew with every change.
    """

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("enter", "take", to_word("shows these"), priority=True),
        Binding("space", "change", to_word("changes the marked row"), priority=True),
    ]
    HINT = to_word("letters change theirs")

    def __init__(
        self, sieve: Sieve, zones: Choose, *, told: Callable[[Sieve], str] | None = None
    ) -> None:
        super().__init__(worded("WHICH ENTRIES ARE SHOWN"))
        self._sieve, self._told = sieve, told
        nowhere = Listed(UNPLACED, worded("no place named"))
        self._lists: dict[str, Choose] = {
            "zone": lambda typed: (*zones(typed), *among([nowhere])(typed)),
            "side": among(listed(SIDES)),
            "grade": among(Listed(grade, look.name) for grade, look in GRADES.items()),
        }

    def body(self) -> ComposeResult:
        """The switches, the filters with a value, and how many are let through."""
        yield Rows(tuple(self._rows()))
        yield Static(id="told")

    def on_mount(self) -> None:
        """Say how many are let through."""
        self._change(self._sieve)

    def _rows(self) -> Iterator[Row]:
        for key, name, does in _ONLY:
            yield row(key, f"[{'x' if getattr(self._sieve, name) else ' '}] {worded(does)}")
        width = max(_WIDTH, *(len(worded(title)) for _, _, title in (*_PICKED, _TEXT)))
        for key, name, title in _PICKED:
            yield row(key, worded(title), self._title(name) or worded(ANY), width=width)
        text = self._sieve.text
        yield row(_TEXT[0], worded(_TEXT[2]), f"“{text}”" if text else worded(ANY), width=width)
        yield row(_CLEAR[0], worded(_CLEAR[2]))

    def _title(self, name: str) -> str:
        """What is asked for, by its name on the screen; empty where nothing is."""
        value = getattr(self._sieve, name)
        known: Sequence[Choice] = self._lists[name]("")
        return next((c.title for c in known if c.value == value), str(value or ""))

    def _change(self, sieve: Sieve) -> None:
        """Take it over and draw it; the marked row stays marked."""
        self._sieve, rows = sieve, self.query_one(Rows)
        rows.put(tuple(self._rows()), at=rows.highlighted)
        told = self._told(sieve) if self._told else ""
        self.query_one("#told", Static).update(Content(inert(told, LONGEST)))
        self.query_one("#told").display = bool(told)

    def on_rows_picked(self, event: Rows.Picked) -> None:
        """A letter changes its row."""
        self._change_row(_NAMES[event.at])

    def action_change(self) -> None:
        """The row that is highlighted."""
        at = self.query_one(Rows).highlighted
        if at is not None:
            self._change_row(_NAMES[at])

    def _change_row(self, name: str) -> None:
        if name == "clear":
            self._change(Sieve())
        elif name == "text":
            asked = ValueDialog(
                "text", worded(_TEXT[2]), self._sieve.text, None, _any_words, drop=worded(ANY)
            )
            self.app.push_screen(asked, partial(self._picked, name))
        elif name in self._lists:
            asks = next(title for _, n, title in _PICKED if n == name)
            title = worded(asks)
            now, choose = self._title(name) or worded(ANY), self._lists[name]
            check = partial(not_listed, title)
            asked = ValueDialog(name, title, now, choose, check, drop=worded(ANY))
            self.app.push_screen(asked, partial(self._picked, name))
        else:
            self._set(name, not getattr(self._sieve, name))

    def _picked(self, name: str, chosen: Chosen | None) -> None:
        """What was picked for a filter; None where that was left with Escape."""
        if chosen is None:
            return
        value: Any = chosen.text if name == "text" else chosen.value
        self._set(name, Grade(value) if name == "grade" and value else value)

    def _set(self, name: str, value: Any) -> None:
        self._change(replace(self._sieve, **{name: value}))

    def action_take(self) -> None:
        """The filters as they are set."""
        self.take(self._sieve)


def _any_words(typed: str) -> str:
    return worded("entries with “{words}”", words=typed)
