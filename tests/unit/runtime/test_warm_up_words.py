"""Words side by side: what counts as the same, what was taken for what, what to say instead."""

from __future__ import annotations

import pytest

from voicelog.config.cache import checked_grammar
from voicelog.config.grammar import Grammar
from voicelog.config.settings import Settings
from voicelog.domain.heard import Heard
from voicelog.interpret.reader import Reader
from voicelog.runtime.warm_up_prompts import prompts_of
from voicelog.runtime.warm_up_takes import Pair, Take, take_of, words_of
from voicelog.runtime.warm_up_words import Confusion, confusions, never_right


@pytest.fixture(scope="module")
def grammar() -> Grammar:
    """The shipped one."""
    return checked_grammar(Settings())


@pytest.fixture(scope="module")
def reader(grammar: Grammar) -> Reader:
    """Of the shipped grammar."""
    return Reader(grammar.vocabulary, grammar.zone_map)


def _take(reader: Reader, said: str, heard: str) -> Take:
    (prompt,) = prompts_of([said], reader)
    return take_of(prompt, Heard.typed(heard), reader)


@pytest.mark.parametrize(
    ("one", "other"),
    [
        ("ten millimetres", "10 millimeters"),
        ("three quarters of an inch", "3/4 of an inch"),
        ("Left sill, hole.", "left sill hole"),
        ("fifteen percent", "15%"),
    ],
)
def test_the_same_said_otherwise_is_the_same(one: str, other: str) -> None:
    """Digits, spelling, case and stops are the ear's taste and no mistakes."""
    assert words_of(one) == words_of(other)


def test_words_are_laid_side_by_side(reader: Reader) -> None:
    """One against one where they are as many; a joined word is no mistake."""
    take = _take(reader, "left sill, surface rust", "left seal surface rest")
    assert take.pairs == (
        Pair("left", "left"), Pair("sill", "seal"), Pair("surface", "surface"),
        Pair("rust", "rest"),
    )  # fmt: skip
    assert (take.words, take.wrong_words) == (4, 2)
    joined = _take(reader, "front cross member, hole", "front crossmember hole")
    assert (joined.right, joined.wrong_words) == (True, 0)


def test_a_reading_can_be_right_with_a_wrong_word(reader: Reader) -> None:
    """The entry is what counts; a lost word of no weight costs nothing."""
    take = _take(
        reader, "left front rail, surface rust, metal is firm", "left front rail surface rust firm"
    )
    assert take.right
    assert take.wrong_words == 2


def test_every_slot_counts(reader: Reader) -> None:
    """The wrong side is as wrong as the wrong place."""
    assert not _take(reader, "left sill, hole", "right sill, hole").right
    assert not _take(reader, "left sill, hole, ten millimetres", "left sill hole 12 mm").right


def test_nothing_heard_is_not_right(reader: Reader) -> None:
    """Every word is missing, and it is no confusion either."""
    take = _take(reader, "left sill, hole", "")
    assert not take.right
    assert take.wrong_words == 3
    assert take.other_words
    assert confusions([take]) == ()


def test_confusions_are_counted_over_sentences(reader: Reader) -> None:
    """Those that spoilt a reading first; each with its sentences."""
    takes = [
        _take(reader, "left sill, hole", "left fill, hole"),
        _take(reader, "right sill, crack", "right fill, crack"),
        _take(reader, "left front rail, surface rust", "left front trail, surface rust"),
    ]
    first, *_ = found = confusions(takes)
    right = sum(take.right for take in takes[:2])
    assert Confusion("sill", "fill", 2, ("left sill, hole", "right sill, crack"), right) in found
    assert first.harmless - first.times == min(one.harmless - one.times for one in found)
    assert {(one.said, one.heard) for one in found} == {("sill", "fill"), ("rail", "trail")}


def test_something_else_said_is_no_confusion(reader: Reader) -> None:
    """Talk to somebody else would fill the table with nonsense."""
    assert confusions([_take(reader, "left sill, hole", "put the kettle on")]) == ()


def test_words_never_heard_right_come_with_other_ways(reader: Reader, grammar: Grammar) -> None:
    """Only ways of the same meaning, and only of words that were heard right."""
    takes = [
        _take(reader, "left sill, hole", "left fill, hole"),
        _take(reader, "right sill, crack", "right seal, crack"),
        _take(reader, "body mount, surface rust", "body mount, surface rust"),
        _take(reader, "left rocker, scale", "left rocker, scale"),
    ]
    (missed,) = never_right(takes, grammar.vocabulary)
    assert (missed.word, missed.times) == ("sill", 2)
    assert "rocker" in missed.instead
    heard = {
        "left",
        "right",
        "hole",
        "crack",
        "body",
        "mount",
        "surface",
        "rust",
        "rocker",
        "scale",
    }
    assert all(set(way.split()) <= heard for way in missed.instead)
    meant = {p.text: p.value for p in grammar.vocabulary.phrases if p.slot == "zone"}
    assert {meant[way] for way in missed.instead} == {"sill"}


def test_a_word_heard_right_once_is_not_among_them(reader: Reader, grammar: Grammar) -> None:
    """It can be heard; the table of confusions tells the rest."""
    takes = [
        _take(reader, "left sill, hole", "left fill, hole"),
        _take(reader, "right sill, crack", "right sill, crack"),
    ]
    assert never_right(takes, grammar.vocabulary) == ()
