"""What ``voicelog words check`` tells of words that an ear cannot write."""

from __future__ import annotations

from voicelog.domain.reading import Phrase, Vocabulary
from voicelog.runtime.words import ONLY_TALK, other_forms

VOCABULARY = Vocabulary(
    (
        Phrase("sill", "zone", "sill"),
        Phrase("rocker", "zone", "sill"),
        Phrase("rocker panel", "zone", "sill"),
        Phrase("banjaxed", "condition", "rot"),
        Phrase("rotten", "condition", "rot"),
        Phrase("banjaxed seam", "part", "seam"),
        Phrase("rotton", "condition", "rot", misheard=True),
        Phrase("blimey", "filler", "filler"),
    )
)


def test_another_phrase_of_the_meaning_stands_for_a_word() -> None:
    """The shortest one."""
    assert other_forms(VOCABULARY, ("sill",)) == {"sill": "rocker"}


def test_a_word_that_alone_says_something_has_no_other() -> None:
    """Its other meaning could be said, and this one could not."""
    assert other_forms(VOCABULARY, ("banjaxed",)) == {}
    assert other_forms(VOCABULARY, ("sill", "rocker")) == {}


def test_talk_needs_nothing() -> None:
    """Whatever is heard in its place is no finding either."""
    assert other_forms(VOCABULARY, ("blimey",)) == {"blimey": ONLY_TALK}
