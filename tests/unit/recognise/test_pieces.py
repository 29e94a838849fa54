"""Cutting long sound into pieces, and joining what was heard in them."""

from __future__ import annotations

import numpy as np
import pytest

from voicelog.domain.heard import Hypothesis, Word
from voicelog.domain.sound import SAMPLE_RATE
from voicelog.recognise.pieces import MOST_HYPOTHESES, joined, split


@pytest.mark.parametrize("seconds", [0.0, 0.5, 5.0, 5.1, 17.0, 60.0])
def test_pieces_put_together_are_the_sound(seconds: float) -> None:
    """No sample is lost or repeated, no piece too long."""
    rng = np.random.default_rng(4)
    sound = rng.standard_normal(int(seconds * SAMPLE_RATE)).astype(np.float32)
    pieces = list(split(sound, longest_s=5.0, within_s=2.0))
    assert np.array_equal(np.concatenate(pieces), sound)
    assert max(map(len, pieces)) <= 5 * SAMPLE_RATE


def test_cut_falls_into_the_pause() -> None:
    """0.4 s of quiet from 3.8 s on: there is the cut."""
    sound = np.random.default_rng(4).standard_normal(8 * SAMPLE_RATE).astype(np.float32)
    sound[int(3.8 * SAMPLE_RATE) : int(4.2 * SAMPLE_RATE)] *= 0.01
    first = next(split(sound, longest_s=5.0, within_s=2.0))
    assert 3.8 < len(first) / SAMPLE_RATE < 4.2


def _hypothesis(text: str, score: float) -> Hypothesis:
    return Hypothesis(text, score, tuple(Word(word) for word in text.split()))


def test_joined_differs_from_the_best_in_one_piece_each() -> None:
    """Best first; scores add up; words follow each other."""
    whole = joined(
        [
            [_hypothesis("left rail", -1.0), _hypothesis("left rain", -3.0)],
            [],
            [_hypothesis("hole", -1.0), _hypothesis("whole", -1.5)],
        ]
    )
    assert [(h.text, h.score) for h in whole] == [
        ("left rail hole", -2.0),
        ("left rail whole", -2.5),
        ("left rain hole", -4.0),
    ]
    assert [word.text for word in whole[1].words] == ["left", "rail", "whole"]


def test_joined_is_nothing_where_nothing_was_heard() -> None:
    """No pieces, or none with a text."""
    assert joined([]) == joined([[], []]) == ()


def test_joined_keeps_a_few_only() -> None:
    """However many runners-up the pieces have."""
    piece = [_hypothesis(str(n), -float(n)) for n in range(4)]
    assert len(joined([piece, piece, piece])) == MOST_HYPOTHESES
