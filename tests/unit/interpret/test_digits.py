"""Number words misheard as other words: put right where only a number can stand."""

from __future__ import annotations

import pytest

from voicelog.domain.heard import Hypothesis, Word
from voicelog.interpret.digits import put_right
from voicelog.interpret.tokens import Token, tokenise


def _put_right(text: str) -> tuple[Token, ...]:
    return put_right(tokenise(Hypothesis(text)))


def _text(text: str) -> str:
    return " ".join(token.text for token in _put_right(text))


@pytest.mark.parametrize(
    ("heard", "said"),
    [
        ("two point to", "two point two"),
        ("hole two point ate", "hole two point eight"),
        ("one print four millimetres", "one point four millimetres"),
        ("one joint five inches", "one point five inches"),
        ("won point five mil", "one point five mil"),
        ("hole for inches", "hole four inches"),
        ("to inches", "two inches"),
        ("sick inches from the hanger", "six inches from the hanger"),
        ("wall loss ate percent", "wall loss eight percent"),
        ("to point tree mil", "two point three mil"),
        ("dirty percent", "thirty percent"),
    ],
)
def test_where_a_number_must_stand_it_does(heard: str, said: str) -> None:
    """After "point", between a number and "point", and before a unit that has no number."""
    assert _text(heard) == said


@pytest.mark.parametrize(
    "text",
    [
        "for the left sill",
        "pass it to me",
        "through and through",
        "mine is a tea",
        "line on the print",
        "the joint of two plates",
        "two joint plates",
        "close to point five",
        "from two to four inches",
        "a quarter to half an inch",
        "up to ten mil",
        "a line inches long",
        "tree in the way",
        "dirty seam",
    ],
)
def test_elsewhere_a_word_stays_what_it_is(text: str) -> None:
    """Talk, the words of a range, and what stands beside a number of its own."""
    assert _text(text) == text


def test_punctuation_parts_a_word_from_the_unit() -> None:
    """ "Too, inches" are two things."""
    assert _text("that too, inches deep") == "that too inches deep"


def test_a_word_put_right_is_less_sure() -> None:
    """It is marked, and keeps at most half the confidence; the words around it keep theirs."""
    words = tuple(Word(word, 0.9) for word in ("two", "point", "to"))
    two, point, last = put_right(tokenise(Hypothesis("two point to", 0.0, words)))
    assert (last.text, last.heard, last.confidence) == ("two", "to", 0.5)
    assert (two.heard, point.heard) == ("", "")
    assert two.confidence == point.confidence == 0.9


def test_words_heard_rightly_are_handed_back_as_they_are() -> None:
    """Nothing is copied where nothing sounds like a number."""
    tokens = tuple(tokenise(Hypothesis("left sill, hole ten millimetres")))
    assert put_right(tokens) == tokens
    assert not any(token.heard for token in tokens)
