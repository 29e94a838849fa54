"""A question that is open: it lies over the card, counts down, and needs no hands."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from math import ceil

from textual.content import Content
from textual.reactive import reactive
from textual.widget import Widget

from voicelog.domain.inert import inert
from voicelog.runtime.messages import Action
from voicelog.tongue import either, to_word, worded
from voicelog.tui.actions import SPOKEN
from voicelog.tui.lettering import lettered

YES_OR_NO = to_word("say “{yes}” or “{no}”, or press a or n")
IN_WORDS = to_word("answer by voice, or press t and type it")


LEAST_ROWS = 5
"""Of the card, below which what lies under it covers it; then no row is left blank."""


def how_to_answer(options: Sequence[str]) -> str:
    """What to say to a question.

    Args:
        options: one of these answers it; none where affirm or negative does.
    """
    if not options:
        return worded(YES_OR_NO, yes=SPOKEN[Action.AFFIRM], no=SPOKEN[Action.NEGATIVE])
    return worded("say {options}", options=either([f"“{inert(option)}”" for option in options]))


class QuestionCard(Widget):
    """What is asked, in large letters, and how long an answer is waited for.

    Args:
        clock: seconds that only run forward.
    """

    text: reactive[str] = reactive("")
    how: reactive[str] = reactive("")
    left_s: reactive[int] = reactive(0)

    def __init__(self, clock: Callable[[], float]) -> None:
        super().__init__()
        self._clock = clock
        self._until_s = self._for_s = 0.0
        self._open = False
        self.display = False

    def on_mount(self) -> None:
        """Count down four times a second, while something is asked."""
        self.set_interval(0.25, self.count)

    def ask(self, text: str, *, how: str) -> None:
        """Open a question in place of the one that is open; it stays until its time is known.

        Args:
            text: what is asked.
            how: how to answer.
        """
        self.text, self.how = inert(text, 240), how
        self._for_s, self._open = 0.0, True
        self._stand(True)

    def await_answer(self, for_s: float) -> None:
        """The question was said to its end: count down from now, or anew where it was said again.

        Args:
            for_s: seconds an answer is waited for; 0 waits until it is answered.
        """
        if not self._open:
            return
        self._for_s, self._until_s = for_s, self._clock() + for_s
        self._stand(True)
        self.count()

    def answered(self) -> None:
        """The question is settled, or given up."""
        self._open = False
        self._stand(False)

    def _stand(self, asked: bool) -> None:
        """Cover the card, or uncover it."""
        self.display = asked
        self.screen.set_class(asked, "-asked")
        self.refresh()

    def count(self) -> None:
        """Uncover the card when the time is over; a question that is said again comes back."""
        if not self.display or self._for_s <= 0:
            return
        self.left_s = max(0, ceil(self._until_s - self._clock()))
        if self.left_s == 0:
            self._stand(False)

    def render(self) -> Content:
        """The question, the time left in figures and as a bar, how to answer."""
        width, height = self.content_size
        asked = lettered(self.text, width, max(1, height - 3))
        bar = [self._bar(max(1, width - 8))] if self._for_s > 0 else []
        lines = [*asked.split("\n"), *bar, self.how]
        rows = sum(max(1, ceil(len(line) / max(1, width))) for line in lines)
        blank = [""] if rows < height and height > LEAST_ROWS else []
        return Content("\n".join([asked, *blank, *bar, self.how]))

    def _bar(self, cells: int) -> str:
        done = round(cells * min(1.0, self.left_s / self._for_s))
        left = worded("{seconds} s", seconds=f"{self.left_s:>3}")
        return f"{left}  {'━' * done}{'·' * (cells - done)}"
