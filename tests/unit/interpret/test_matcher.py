"""What a run of words can be: the very words first, then the same stretched, then the like."""

from __future__ import annotations

from collections.abc import Sequence

import pytest

from voicelog.domain.heard import Hypothesis
from voicelog.domain.reading import Vocabulary
from voicelog.interpret.matcher import Matcher
from voicelog.interpret.tokens import tokenise


@pytest.fixture(scope="module")
def matcher(few_words: Vocabulary) -> Matcher:
    """Of a few phrases."""
    return Matcher(few_words)


def _starting(matcher: Matcher, text: str, start: int = 0) -> list[tuple[int, bool, str, float]]:
    said = matcher.sentence(tokenise(Hypothesis(text)))
    return [
        (end, crossed, match.phrase.text, match.score)
        for end, crossed, match in matcher.starting(said, start)
    ]


def test_the_sentence_says_what_is_known_of_each_word(matcher: Matcher) -> None:
    """Folded, light, known, and followed by a stop."""
    said = matcher.sentence(tokenise(Hypothesis("the front rails, grommet")))
    assert said.words == ("the", "front", "rails", "grommet")
    assert said.folded == ("the", "front", "rail", "grommet")
    assert said.light == (True, False, False, False)
    assert said.known == (True, True, True, False)
    assert said.stops == (False, False, True, False)


@pytest.mark.parametrize(
    ("text", "found"),
    [
        ("front rail", [(1, "front"), (2, "front rail")]),
        ("front rails", [(1, "front"), (2, "front rail")]),
        ("cross members", []),
        ("gearbox crossmember", [(2, "gearbox cross member")]),
        ("outrigger scale", [(1, "outrigger")]),
    ],
)
def test_the_very_words_are_certain(
    matcher: Matcher, text: str, found: list[tuple[int, str]]
) -> None:
    """Every phrase that begins there, however words are run together, with the score 1."""
    assert _starting(matcher, text) == [(end, False, phrase, 1.0) for end, phrase in found]


def test_a_phrase_is_found_across_a_stop_and_says_so(matcher: Matcher) -> None:
    """A recogniser sets commas where it likes; the caller lowers the score."""
    assert (2, True, "front rail", 1.0) in _starting(matcher, "front, rail")


@pytest.mark.parametrize("text", ["seam really blown", "seam has really blown", "blown the seam"])
def test_a_phrase_may_be_stretched(matcher: Matcher, text: str) -> None:
    """Small words between its own; the match ends with the last of these."""
    ((end, _, phrase, score),) = _starting(matcher, text)
    assert end == len(text.split())
    assert phrase in ("seam has blown", "blown seam")
    assert score < 1.0


@pytest.mark.parametrize("text", ["seam, really blown", "seam not blown", "the seam really"])
def test_not_across_a_stop_nor_around_a_negation_nor_with_small_words_to_spare(
    matcher: Matcher, text: str
) -> None:
    """ "The seam really" has only one of the words that carry the phrase."""
    assert "seam has blown" not in [phrase for _, _, phrase, _ in _starting(matcher, text)]


@pytest.mark.parametrize(
    ("text", "phrase"),
    [
        ("outtrigger", "outrigger"),
        ("surface roast", "surface rust"),
        ("gearbox crossed number", "gearbox cross member"),
    ],
)
def test_a_run_with_a_strange_word_may_be_the_like(
    matcher: Matcher, text: str, phrase: str
) -> None:
    """Less sure than the very words, and never across a stop."""
    words = text.split()
    scores = {found: score for _, _, found, score in _starting(matcher, text)}
    assert 0.7 < scores[phrase] < 1.0
    if len(words) > 1:
        parted = f"{words[0]}, {' '.join(words[1:])}"
        assert phrase not in [found for _, _, found, _ in _starting(matcher, parted)]


@pytest.mark.parametrize("text", ["front bit", "left rail", "rest", "the outtrigger"])
def test_words_that_are_all_known_are_not(matcher: Matcher, text: str) -> None:
    """Only what is strange is compared by likeness, and no run with a small word at its end."""
    assert all(score == 1.0 for _, _, _, score in _starting(matcher, text))


@pytest.mark.parametrize(
    ("run", "slots", "values"),
    [
        (["front", "rain"], ("zone", "family"), ["front-rail"]),
        (["skull"], ("condition",), ["scale"]),
        (["skull"], ("zone", "family"), []),
        (["grommet"], ("zone", "condition"), []),
    ],
)
def test_sounding_keeps_to_the_classes_asked_for(
    matcher: Matcher, run: Sequence[str], slots: Sequence[str], values: list[str]
) -> None:
    """Words that sound like a fault are no place."""
    assert [match.phrase.value for match in matcher.sounding(run, slots, 0.6)] == values


@pytest.mark.parametrize(
    ("word", "side"), [("lift", "left"), ("rite", "right"), ("loft", "left"), ("light", "right")]
)
def test_a_side_is_known_by_its_sound(matcher: Matcher, word: str, side: str) -> None:
    """The nearest one; a word that sounds like none is none."""
    match = matcher.side_sounding(word, 0.55)
    assert match is not None
    assert match.phrase.value == side
    assert matcher.side_sounding("grommet", 0.55) is None
