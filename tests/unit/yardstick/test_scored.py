"""Counts of groups of recordings, shares as text, and what counting words needs."""

from __future__ import annotations

from typing import Any

import pytest

from tests.unit.runtime.told_recordings import SHEET
from voicelog.errors import VoicelogError
from voicelog.yardstick import words
from voicelog.yardstick.scored import Result, Scored, Take, by_kind, by_noise, by_speaker, counts
from voicelog.yardstick.shares import interval_text, share_text, wilson
from voicelog.yardstick.strict import Answer, Tally
from voicelog.yardstick.words import Words


def one(item: int, speaker: str, noise: str, **tally: int) -> Scored:
    """A recording with these counts, one of its four words wrong."""
    result = Result(Tally(cases=1, **tally), Answer())
    take = Take(SHEET.items[item], speaker, noise)
    return Scored(take, 2.0, 1, "", Words(right=3, wrong=1), 0, {"ear": result})


SCORED = [
    one(0, "s01", "quiet", exact=1, right=1, slots_right=4, slots_got=4, slots_wanted=4),
    one(1, "s01", "fan", wrong=1, wrong_marked=1, slots_right=3, slots_got=4, slots_wanted=5),
    one(2, "s02", "fan", wrong=1, missing=1, right=1),
    one(2, "s02", "quiet", exact=1, right=1),
]


def test_talk_is_counted_apart() -> None:
    """By what it made and what it spoilt; its words count with all others."""
    found = counts(SCORED, "ear")
    assert found.told == Tally(2, 1, 7, 8, 9, right=1, wrong=1, wrong_marked=1)
    assert (found.talk, found.spoilt, found.false, found.false_marked) == (2, 1, 2, 0)
    assert (found.words.errors, found.words.said) == (4, 16)


@pytest.mark.parametrize(
    ("group", "names"),
    [
        (by_noise, {"quiet": 2, "fan": 2}),
        (by_speaker, {"s01": 2, "s02": 2}),
        (by_kind, {"plain": 1, "size": 1, "talk": 2}),
    ],
)
def test_every_recording_is_in_one_group(group: Any, names: dict[str, int]) -> None:
    """In the order in which they came."""
    assert {name: len(ones) for name, ones in group(SCORED).items()} == names


@pytest.mark.parametrize(
    ("part", "whole", "low", "high"),
    [
        (81, 263, 0.2553, 0.3662),
        (15, 148, 0.0624, 0.1605),
        (0, 20, 0.0, 0.1611),
        (1, 29, 0.0061, 0.1718),
    ],
)
def test_the_interval_of_a_share(part: int, whole: int, low: float, high: float) -> None:
    """Worked examples of R. G. Newcombe, Statistics in Medicine 17 (1998), table I, method 3."""
    assert wilson(part, whole) == pytest.approx((low, high), abs=5e-5)


def test_shares_are_told_with_their_counts() -> None:
    """And nothing is told of nothing."""
    assert share_text(1, 8) == "12.5 % (1/8)"
    assert interval_text(1, 29) == "1 to 17 %"
    assert share_text(0, 0) == interval_text(0, 0) == "–"


def test_counting_words_says_what_it_needs(monkeypatch: pytest.MonkeyPatch) -> None:
    """Before anybody waits for an ear."""
    words.require()
    monkeypatch.setattr(words, "find_spec", lambda name: None if name == "jiwer" else object())
    with pytest.raises(VoicelogError, match=r"not installed \(jiwer\).*voicelog\[measure\]"):
        words.require()
