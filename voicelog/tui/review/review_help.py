"""The help of the review screen: keys, how sure words are, marks and signs."""

from __future__ import annotations

from collections.abc import Iterator

from textual.content import Content

from voicelog.tongue import to_word, worded
from voicelog.tui.help_screen import HelpScreen, help_row, help_sign, help_title
from voicelog.tui.looks import GRADES, KINDS, WITHDRAWN
from voicelog.tui.review.deeds import DEEDS
from voicelog.tui.review.marks import MARKS
from voicelog.tui.review.spoken import FAINT, SHAKY

_WORDS = (
    ("{}??", to_word("a guess: the recogniser was less than {faint} sure of it")),
    ("{}?", to_word("less than {shaky} sure")),
    ("{}", to_word("surer, or the recogniser does not say")),
    ("[{}]", to_word("the word that p plays from and s splits at; ← and → choose it")),
    ("»{}«", to_word("the word that is being played")),
)


class ReviewHelp(HelpScreen):
    """All there is to know, on one page."""

    def __init__(self) -> None:
        super().__init__(DEEDS)

    def page(self) -> Iterator[Content]:
        """Its lines."""
        yield help_title(worded("KEYS"))
        yield help_row(
            "↑ ↓ PgUp PgDn", worded("Another entry. Tab: into the entry, to scroll it, and back")
        )
        yield from self.keys()
        yield help_title(worded("THE WORDS THAT WERE HEARD"))
        sure = {"faint": f"{FAINT:.0%}", "shaky": f"{SHAKY:.0%}"}
        for sign, meaning in _WORDS:
            yield help_row(sign.format(worded("word")), worded(meaning, **sure))
        yield help_title(worded("MARKS, EACH IN ITS COLUMN"))
        yield from (help_row(mark.sign, worded(mark.word)) for mark in MARKS)
        yield help_row("*", worded("marked, to be moved, merged or withdrawn with others"))
        yield help_title(worded("SIGNS"))
        yield from map(help_sign, [*GRADES.values(), *KINDS.values(), WITHDRAWN])
