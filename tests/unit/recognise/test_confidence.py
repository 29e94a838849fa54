"""Chances of words: they rise with every sign, and stay chances."""

from __future__ import annotations

from itertools import pairwise

import pytest

from voicelog.domain.heard import Hypothesis, Word
from voicelog.recognise.confidence import Confidence, signs
from voicelog.recognise.context import CARRIED, KINDS, START
from voicelog.recognise.fitted import fitted_confidence, fitted_context

CURVE = Confidence(own=0.5, beside=0.5, agreed=1.0, bias=1.0)


def _hypothesis(score: float, *words: tuple[str, float]) -> Hypothesis:
    text = " ".join(word for word, _ in words)
    return Hypothesis(text, score, tuple(Word(*word) for word in words))


@pytest.mark.parametrize("sign", [0, 1, 2])
def test_chances_rise_with_every_sign(sign: int) -> None:
    """Of the shipped curve: a surer model, surer neighbours, more agreement never make less sure."""
    curve, steps = fitted_confidence(), [n / 10 for n in range(-70, 1)]
    values = [-1.0, -1.0, 0.5]
    chances = []
    for step in steps:
        values[sign] = step if sign < 2 else 1 + step / 7
        chances.append(curve.chance(*values))
    assert all(before <= after for before, after in pairwise(chances))
    assert all(0.0 < chance < 1.0 for chance in chances)


def test_a_word_stands_beside_its_neighbours() -> None:
    """The same probability counts less between words that were guessed."""
    sure = CURVE.calibrated([_hypothesis(0.0, ("left", 0.9), ("rail", 0.5), ("rust", 0.9))])
    unsure = CURVE.calibrated([_hypothesis(0.0, ("left", 0.1), ("rail", 0.5), ("rust", 0.1))])
    assert (sure[0].words[1].confidence or 0) > (unsure[0].words[1].confidence or 0)


def test_hypotheses_vote_on_each_word() -> None:
    """A word that all have is surer than one that a near rival has not; a far rival hardly counts."""
    best = _hypothesis(0.0, ("Left", 0.9), ("rail", 0.9))
    near, far = _hypothesis(-0.0, ("left", 0.9), ("sail", 0.9)), _hypothesis(-9.0, ("x", 0.9))
    (_, _, left), (_, _, rail) = signs([best, near])[0]
    assert (left, rail) == (1.0, 0.5)
    assert signs([best, far])[0][1][2] > 0.99


def test_texts_and_scores_stay() -> None:
    """Only confidences change; a lone word and an impossible one are no trouble."""
    told = [_hypothesis(-1.0, ("rust", 0.0)), _hypothesis(-2.0, ("rest", 1.0))]
    made = CURVE.calibrated(told)
    assert [(one.text, one.score) for one in made] == [("rust", -1.0), ("rest", -2.0)]
    assert all(0 < (word.confidence or 0) < 1 for one in made for word in one.words)
    assert CURVE.calibrated([]) == ()


def test_places_follow_sides_and_units_numbers() -> None:
    """What was counted is what the trade says, and no pair outweighs a word."""
    context = fitted_context()
    assert context.bonus("side", "place") > 0 > context.bonus("side", "number")
    assert context.bonus("number", "unit") > 0 > context.bonus("place", "unit")
    assert context.bonus("place", "fault") > 0 > context.bonus("place", "place")
    kinds = (START, CARRIED, *KINDS)
    assert all(abs(context.bonus(a, b)) <= 2.0 for a in kinds for b in kinds)
    assert context.bonus("nonsense", "place") == 0.0
