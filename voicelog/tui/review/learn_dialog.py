"""Whether a mishearing is to be remembered, and for whom."""

from __future__ import annotations

from collections.abc import Sequence
from typing import ClassVar, Literal

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import VerticalScroll
from textual.content import Content
from textual.widgets import Static

from voicelog.tongue import to_word, worded
from voicelog.tui.review.dialog import Dialog, lines, quoted
from voicelog.tui.review.rows import Rows, row

Whom = Literal["shop", "person"]

_OFFERS: tuple[tuple[str, str, str, Whom | None], ...] = (
    ("n", to_word("not at all"), to_word("it stays with this entry"), None),
    ("s", to_word("for this shop"), to_word("everybody who uses its vocabulary"), "shop"),
    ("p", to_word("for me"), to_word("nobody else is heard differently"), "person"),
)
_WIDTH = 14


class LearnDialog(Dialog[Whom]):
    """Gives back for whom it is remembered; None for nobody, as Escape does.

    Args:
        heard: the words that were misheard.
        means: what they stand for.
        would_change: what else in this log would have been read differently, a line each.
        refused: why it cannot be learned, with the reading that it would break; empty where it can.
    """

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("enter", "take", to_word("takes it"), priority=True),
        Binding("pagedown", "scroll_told(4)", "Down", show=False, priority=True),
        Binding("pageup", "scroll_told(-4)", "Up", show=False, priority=True),
    ]
    HINT = to_word("letters mark theirs")

    def __init__(
        self, heard: str, means: str, would_change: Sequence[str], refused: str = ""
    ) -> None:
        super().__init__(worded("REMEMBER A MISHEARING?"))
        self._heard, self._means = heard, means
        self._would_change, self._refused = would_change, refused
        self._offers = _OFFERS[:1] if refused else _OFFERS

    def body(self) -> ComposeResult:
        """What it is about, what it would change, for whom."""
        yield Static(_about(quoted(self._heard), quoted(self._means)))
        with VerticalScroll(classes="-scrolls", can_focus=False) as told:
            told.border_title = (
                worded("it cannot be learned") if self._refused else worded("it would change")
            )
            yield Static(lines(self._told()))
        offers = [(key, worded(name), worded(does)) for key, name, does, _ in self._offers]
        width = max(_WIDTH, *(len(name) for _, name, _ in offers))
        yield Rows([row(key, name, does, width=width, style="") for key, name, does in offers])

    def _told(self) -> Sequence[str]:
        if self._refused:
            return [self._refused]
        return self._would_change or [worded("nothing else in this log")]

    def action_scroll_told(self, by: int) -> None:
        """Go through what it would change; the arrows belong to the rows."""
        self.query_one(".-scrolls").scroll_relative(y=by, animate=False)

    def action_take(self) -> None:
        """The row that is highlighted: at first the one that changes nothing.

        A letter only marks its row: this dialog comes up by itself, and a key that was meant for
        the screen below must not change a vocabulary.
        """
        whom = self._offers[self.query_one(Rows).highlighted or 0][3]
        if whom is None:
            self.action_leave()
        else:
            self.take(whom)


def _about(heard: str, meant: str) -> Content:
    """What was misheard, the words themselves in bold."""
    told = Content(worded("heard {heard}, meant {meant}", heard=heard, meant=meant))
    for words in (heard, meant):
        at = told.plain.find(words)
        told = told.stylize("bold", at, at + len(words))
    return told
