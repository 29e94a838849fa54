"""Looking words up in the pronouncing dictionary."""

from __future__ import annotations

import pytest

from voicelog.interpret.pronunciations import pronounced, read_cmudict


@pytest.mark.parametrize(
    "word", ["", " ", "rusty rust", "zzzz", "rüst", "été", "#", "rust r@st", "\n", "ржа"]
)
def test_what_is_no_word_of_the_dictionary_is_not_found(word: str) -> None:
    """More than a word is no word, nor is anything of the head."""
    assert pronounced(word) == ()


def test_all_pronunciations_of_a_word_come_most_usual_first() -> None:
    """ "read" is said in two ways."""
    assert pronounced("read") == ("red", "rId")


def test_a_pronunciation_listed_twice_counts_once() -> None:
    """Alternatives are numbered in brackets."""
    assert read_cmudict("seat S IY T\nseat(2) S IY T\nseat(3) S IH T\n") == {"seat": ("sIt", "sit")}
