"""The help of the review screen: keys, how sure words are, marks and signs."""

from __future__ import annotations

from collections.abc import Iterator

from textual.content import Content

from voicelog.tui.help_screen import HelpScreen, help_row, help_title
from voicelog.tui.looks import GRADES, KINDS
from voicelog.tui.review.deeds import DEEDS
from voicelog.tui.review.detail_words import WITHDRAWN_LOOK
from voicelog.tui.review.marks import MARKS
from voicelog.tui.review.spoken import FAINT, SHAKY

_WORDS = (
    ("word??", f"a guess: the recogniser was less than {FAINT:.0%} sure of it"),
    ("word?", f"less than {SHAKY:.0%} sure"),
    ("word", "surer, or the recogniser does not say"),
    ("[word]", "the word that p plays from and s splits at; ← and → choose it"),
    ("»word«", "the word that is being played"),
)


class ReviewHelp(HelpScreen):
    """All there is to know, on one page."""

    def __init__(self) -> None:
        super().__init__(DEEDS)

    def page(self) -> Iterator[Content]:
        """Its lines."""
        yield help_title("KEYS")
        yield help_row(
            "↑ ↓ PgUp PgDn", "Another entry. Tab: into the entry, to scroll it, and back"
        )
        yield from self.keys()
        yield help_title("THE WORDS THAT WERE HEARD")
        yield from (help_row(sign, meaning) for sign, meaning in _WORDS)
        yield help_title("MARKS, EACH IN ITS COLUMN")
        yield from (help_row(mark.sign, mark.word) for mark in MARKS)
        yield help_row("*", "marked, to be moved, merged or withdrawn with others")
        yield help_title("SIGNS")
        for look in [*GRADES.values(), *KINDS.values(), WITHDRAWN_LOOK]:
            yield Content.assemble((f" {look.sign} ", look.style), " " * 23, look.word.lower())
