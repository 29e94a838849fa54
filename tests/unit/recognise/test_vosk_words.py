"""The vocabulary in the words of a model that has a closed list of them."""

from __future__ import annotations

import pytest

from voicelog.domain.heard import Hypothesis, Word
from voicelog.recognise.vosk_words import Respelt, respell

KNOWN = frozenset(
    (
        "left", "rail", "hole", "cross", "member", "one", "under", "seal", "sub", "frame", "k", "the",
        "res", "oval", "ling", "over", "prayed", "sprayed", "overs", "no",
    )
)  # fmt: skip


def _respelt(*phrases: str) -> Respelt:
    return respell(phrases, KNOWN.__contains__)


@pytest.mark.parametrize(
    ("phrases", "said", "instead"),
    [
        (("left rail",), ("left rail",), {}),
        (("Left Rail",), ("left rail",), {}),
        (("left crossmember", "member"), ("left cross member", "member"), {"crossmember": "cross member"}),
        (("1 rail",), ("one rail",), {"1": "one"}),
        (("k-member",), ("k member",), {"k-member": "k member"}),
        (("no.",), ("no",), {"no.": "no"}),
        (("oversprayed", "over"), ("over sprayed", "over"), {"oversprayed": "over sprayed"}),
    ],
)  # fmt: skip
def test_what_stands_for_a_word(
    phrases: tuple[str, ...], said: tuple[str, ...], instead: dict[str, str]
) -> None:
    """Compounds as their parts, figures as words, hyphens and full stops as nothing."""
    found = _respelt(*phrases)
    assert (found.phrases, dict(found.instead), found.unknown) == (said, instead, ())


@pytest.mark.parametrize("word", ["outrigger", "theres", "ovalling", "subframe", "21", "3/16"])
def test_what_nothing_stands_for_leaves_its_phrases_out(word: str) -> None:
    """Parts that are too short, look like an ending, or are none of the vocabulary's, say nothing."""
    found = _respelt("left rail", f"left {word}", "oval", "the")
    assert (found.unknown, found.phrases) == ((word,), ("left rail", "oval", "the"))


def test_each_phrase_stands_once() -> None:
    """Two spellings of one thing sound alike."""
    assert _respelt("crossmember", "cross member").phrases == ("cross member",)


def test_compounds_are_written_as_the_vocabulary_has_them() -> None:
    """With the time of both parts, and as sure as the less sure one."""
    heard = Hypothesis(
        "left under seal hole",
        -1.0,
        (Word("left", 0.9, 0.0, 0.3), Word("under", 0.8, 0.3, 0.6), Word("seal", 0.5, 0.6, 0.9),
         Word("hole", None, 0.9, 1.2)),
    )  # fmt: skip
    back = _respelt("underseal", "seal").spelt_back(heard)
    assert back.text == "left underseal hole"
    assert back.words[1] == Word("underseal", 0.5, 0.3, 0.9)
    assert back.score == -1.0


def test_parts_that_the_vocabulary_has_side_by_side_stay_apart() -> None:
    """ "Number 1 cross member" would no longer be found."""
    heard = Hypothesis("cross member", 0.0, (Word("cross"), Word("member")))
    spelling = _respelt("crossmember", "cross member", "member")
    assert spelling.spelt_back(heard) is heard
