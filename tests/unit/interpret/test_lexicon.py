"""The vocabulary as an index: exact phrases, unknown words near one, words that sound like one."""

from __future__ import annotations

import time
from functools import cache

import pytest

from voicelog.config.grammar import load_grammar
from voicelog.domain.reading import Phrase, Vocabulary
from voicelog.interpret.lexicon import Lexicon, Match, fold, key


@cache
def _shipped() -> Lexicon:
    return Lexicon(load_grammar().vocabulary)


def _small(*texts: str, slot: str = "zone") -> Lexicon:
    return Lexicon(Vocabulary(tuple(Phrase(text, slot, text) for text in texts)))


def _values(matches: tuple[Match, ...]) -> list[str]:
    return [match.phrase.value for match in matches]


@pytest.mark.parametrize(
    ("word", "folded"),
    [
        ("rails", "rail"),
        ("driver's", "driver"),
        ("less", "less"),
        ("is", "is"),
    ],
)
def test_endings_are_folded(word: str, folded: str) -> None:
    """Plural and possessive, but not the end of a short word or of one in -ss."""
    assert fold(word) == folded


def test_words_apart_and_together_are_one_thing() -> None:
    """And a phrase is found in either form."""
    assert key(["cross", "members"]) == key(["crossmember"])
    assert _values(_small("cross member").exact(["crossmembers"])) == ["cross member"]


@pytest.mark.parametrize(
    ("heard", "meant"),
    [
        ("frunt rale", "front-rail"),
        ("control on", "control-arm-mount"),
        ("outer rigger", "outrigger"),
        ("servus rust", "surface-rust"),
        ("crossed numbur", "front-cross-member"),
        ("delamminated", "delamination"),
    ],
)
def test_an_unknown_word_is_taken_for_the_phrase_it_is_near(heard: str, meant: str) -> None:
    """By looks and sound together."""
    near = _shipped().near(heard.split())
    assert near
    assert near[0].phrase.value.startswith(meant)
    assert 0.7 < near[0].score <= 0.95


@pytest.mark.parametrize(
    "heard",
    [
        "rest",
        "right",
        "seal",
        "kettle",
        "football",
        "customer",
        "radio",
        "airline",
        "training",
        "x" * 41,
    ],
)
def test_everyday_words_are_not(heard: str) -> None:
    """Short words, words of chatter, words that begin otherwise, words without end."""
    assert _shipped().near([heard]) == ()


@pytest.mark.parametrize(
    ("heard", "meant"),
    [
        ("surface rest", "surface-rust"),
        ("break line", "brake-line"),
        ("control on", "control-arm-mount"),
        ("seal", "sill"),
        ("whole", "hole"),
        ("rest", "surface-rust"),
        ("service dressed", "surface-rust"),
        ("pitch", "old-repair"),
    ],
)
def test_words_sound_like_what_they_are_a_mishearing_of(heard: str, meant: str) -> None:
    """Known words and everyday words too: whether it was so, the context decides."""
    alike = _shipped().sounds_like(heard.split())
    assert meant in _values(alike)
    assert all(0.65 <= match.score <= 0.9 for match in alike)


@pytest.mark.parametrize("heard", ["left seal", "the body", "and", "15", "", "x" * 41])
def test_other_words_sound_like_nothing(heard: str) -> None:
    """Words, figures, silence; a word beside a misheard one is not swallowed."""
    assert _shipped().sounds_like(heard.split()) == ()


def test_the_same_sound_comes_first_and_counts_for_less_than_the_very_words() -> None:
    """A score of 0.9 is for the same letters; the homophone has a little less."""
    alike = _small("brake line", "brick lane", "black lion").sounds_like(["break", "line"])
    assert _values(alike)[0] == "brake line"
    assert [match.score for match in alike] == sorted((m.score for m in alike), reverse=True)
    assert 0.85 < alike[0].score < 0.9


def test_a_phrase_among_the_words_was_not_misheard() -> None:
    """Nor was one of which only a part was said."""
    lexicon = _small("surface rust", "light surface rust", slot="condition")
    assert lexicon.sounds_like(["surface", "rust", "on"]) == ()
    assert lexicon.sounds_like(["surface", "rust"]) == ()


def test_each_meaning_comes_once_and_no_more_than_asked_for() -> None:
    """The best of its phrases stands for it."""
    phrases = (
        Phrase("front rail", "zone", "a"), Phrase("frond rail", "zone", "a"),
        Phrase("front reel", "zone", "b"), Phrase("frank rail", "zone", "c"),
    )  # fmt: skip
    lexicon = Lexicon(Vocabulary(phrases))
    assert sorted(_values(lexicon.sounds_like(["frunt", "rale"], limit=9))) == ["a", "b", "c"]
    assert len(lexicon.sounds_like(["frunt", "rale"], limit=2)) == 2


def test_known_words_cost_nothing_of_it(monkeypatch: pytest.MonkeyPatch) -> None:
    """The sounds are only made when some words have to be compared with them."""

    def refuse(*_: object) -> None:
        raise AssertionError("the index was built")

    monkeypatch.setattr("voicelog.interpret.lexicon.Echoes", refuse)
    lexicon = _small("cross member")
    assert lexicon.knows("cross")
    assert lexicon.exact(["cross", "member"])
    with pytest.raises(AssertionError, match="index was built"):
        lexicon.near(["crossed", "number"])


def test_a_known_mishearing_is_no_target() -> None:
    """What sounds like a mishearing is compared with what was meant."""
    misheard = Phrase("service dressed", "condition", "surface-rust", misheard=True)
    lexicon = Lexicon(Vocabulary((misheard,)))
    assert lexicon.near(["survice", "dressed"]) == ()
    assert lexicon.exact(["service", "dressed"])[0].score == 0.9


def test_ten_times_the_phrases_take_no_more_than_ten_times_as_long() -> None:
    """Made-up phrases beside the shipped ones; measured: 5 times as long."""
    shipped = load_grammar().vocabulary.phrases
    words = sorted({word for phrase in shipped for word in phrase.text.split()})
    made = [
        Phrase(f"{words[(7 * i) % len(words)]} {phrase.text}", phrase.slot, f"{phrase.value} {i}")
        for i in range(9)
        for phrase in shipped
    ]
    few, many = _shipped(), Lexicon(Vocabulary((*shipped, *made)))
    assert _seconds(many) < 10 * _seconds(few) + 0.05


def _seconds(lexicon: Lexicon) -> float:
    """Processor time of near and sounds_like over some heard words, the index already built."""
    heard = [
        ["frunt", "rale"],
        ["kettle", "on"],
        ["control", "on"],
        ["crossed", "number"],
        ["zeal"],
    ]
    lexicon.near(heard[0])
    start = time.process_time()
    for words in heard * 20:
        lexicon.near(words)
        lexicon.sounds_like(words)
    return time.process_time() - start
