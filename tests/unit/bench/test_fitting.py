"""Fitting the built-in ear's numbers: what is counted, what is right, and that chances get better."""

from __future__ import annotations

import numpy as np
import pytest
from fitting import chances, gap, ranking, were_said
from kinds import counted

from voicelog.domain.heard import Word
from voicelog.domain.reading import Phrase, Vocabulary

VOCABULARY = Vocabulary(
    (
        Phrase("left", "side", "left"),
        Phrase("front rail", "zone", "front-rail"),
        Phrase("rust", "rust", "rust"),
        Phrase("rest", "rust", "rust", misheard=True),
    )
)


def test_kinds_are_counted_in_the_order_of_speech() -> None:
    """After a side a place, after a place a fault; a later utterance follows a carried place."""
    nats = counted([(("left front rail, rust", "rust"), 1.0)] * 50, VOCABULARY)
    assert nats["side"]["place"] > 0 > nats["side"]["fault"]
    assert nats["place"]["fault"] > 0 > nats["place"]["side"]
    assert nats["carried"]["fault"] > 0 > nats["start"]["fault"]


def test_mishearings_are_not_counted() -> None:
    """Nobody says them."""
    assert "fault" not in counted([(("left rest", "left front rail"), 1.0)], VOCABULARY)["side"]


def test_words_are_right_where_they_were_said() -> None:
    """Case and punctuation do not matter, order does."""
    heard = [Word("Left,"), Word("frond"), Word("rail"), Word("rail.")]
    assert were_said(heard, "left front rail") == [True, False, True, False]


def test_a_fit_makes_chances_of_what_is_too_sure() -> None:
    """Words of which 60 in 100 are right, all told as 95 in 100."""
    right = np.arange(100) < 60
    sure = np.full(100, 0.95)
    assert gap(sure, right) == pytest.approx(0.35)
    assert gap(np.where(right, 1.0, 0.0), right) == pytest.approx(0.0)
    assert ranking(np.where(right, 0.9, 0.2), right) == pytest.approx(1.0)
    assert chances(np.array([1.0, 0.0, 0.0, 0.0]), np.zeros((1, 3))) == pytest.approx(0.5)


def test_words_told_alike_are_ranked_by_nobody() -> None:
    """A tie counts half, in whatever order the words come."""
    right = np.array([True, True, False, False])
    assert ranking(np.full(4, 0.7), right) == pytest.approx(0.5)
    assert ranking(np.array([0.7, 0.9, 0.7, 0.1]), right) == pytest.approx(0.875)
