"""Phrases said with small words between, or turned round."""

from __future__ import annotations

import pytest

from voicelog.domain.reading import Phrase, Vocabulary
from voicelog.interpret.gaps import LIGHT, THING, Gaps

_PHRASES = (
    Phrase("seam has blown", "condition", "pack-rust"),
    Phrase("seized bolts", "condition", "seized-fixing"),
    Phrase("rings true", "probe", "firm"),
    Phrase("not holed", "clear", "sound"),
    Phrase("no rust on it", "clear", "no-rust"),
    Phrase("bit thin", "condition", "thinning"),
    Phrase("front rail", "zone", "front-rail"),
    Phrase("scale", "condition", "scale"),
    Phrase("serve as dressed", "condition", "surface-rust", misheard=True),
    *(Phrase(text, "filler", LIGHT) for text in ("the", "has", "really", "is", "on", "it")),
    Phrase("bolts", "filler", THING),
    Phrase("bit", "filler", "filler"),
    *(Phrase(text, "negation", "no") for text in ("no", "not")),
)


@pytest.fixture(scope="module")
def gaps() -> Gaps:
    """Phrases of the classes that may be stretched, and of some that may not."""
    return Gaps(Vocabulary(_PHRASES))


def _stretched(gaps: Gaps, *carried: str) -> list[str]:
    return [match.phrase.text for match in gaps.stretched(carried)]


@pytest.mark.parametrize(
    ("carried", "phrase"),
    [
        (("seam", "blown"), "seam has blown"),
        (("seized", "bolt"), "seized bolts"),
        (("ring", "true"), "rings true"),
    ],
)
def test_the_words_that_carry_a_phrase_are_enough(
    gaps: Gaps, carried: tuple[str, ...], phrase: str
) -> None:
    """Small words are left out, and endings folded: "seam really blown", "seized bolt"."""
    assert _stretched(gaps, *carried) == [phrase]


def test_a_fault_may_be_turned_round(gaps: Gaps) -> None:
    """ "Bolts seized" is "seized bolts"."""
    assert _stretched(gaps, "bolt", "seized") == ["seized bolts"]
    assert _stretched(gaps, "blown", "seam") == ["seam has blown"]


def test_other_classes_may_not(gaps: Gaps) -> None:
    """What the probe did is told in one order."""
    assert _stretched(gaps, "true", "ring") == []


@pytest.mark.parametrize(
    ("carried", "why"),
    [
        (("not", "holed"), "a negation and one word: the negation is read by itself"),
        (("no", "rust"), "the same with small words behind"),
        (("bit", "thin"), "a filler and one word: too little to be sure of"),
        (("front", "rail"), "names of places are never stretched"),
        (("scale",), "a single word has nothing to stretch"),
        (("serve", "as", "dressed"), "nor has what a recogniser makes of a phrase"),
        (("seam",), "one word of several"),
        (("seam", "has", "blown", "bolt"), "a word too many"),
    ],
)
def test_nothing_else_is_stretched(gaps: Gaps, carried: tuple[str, ...], why: str) -> None:
    """Phrases whose words other than weak ones are fewer than two, names, and parts of phrases."""
    assert _stretched(gaps, *carried) == [], why


def test_a_stretched_phrase_counts_for_less_than_its_very_words(gaps: Gaps) -> None:
    """So that the exact phrase wins where both fit."""
    (match,) = gaps.stretched(("seam", "blown"))
    assert 0.95 < match.score < 1.0


def test_light_words_and_carrying_words_are_told_apart(gaps: Gaps) -> None:
    """A light word may stand inside any phrase; a carrying one belongs to some stretched phrase."""
    assert gaps.is_light("really")
    assert not gaps.is_light("bolts")
    assert gaps.carries("blown")
    assert not gaps.carries("rail")
    assert not gaps.carries("holed")
