"""The chance that a word is right, from what the model says of it, its neighbours and its rivals.

The model's own probabilities are no chances: under a bias, words that nobody said score high and
right ones low. A logistic curve over three signs, fitted on synthetic speech in noise, makes
chances of them. It rises with each sign, so that a word of which the model is surer never comes out
less sure. The numbers are in ``fitted.json``, with the day and the set they were fitted on.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from math import exp, log

from voicelog.domain.heard import Hypothesis, Word

FLOOR = 5e-4
"""Probabilities below count as this: how far below says nothing."""

SHARPNESS = 4.0
"""Share of a hypothesis in the vote on its words: nats for one nat of its score."""


@dataclass(frozen=True, slots=True)
class Confidence:
    """The fitted curve; no weight is below 0.

    Args:
        own: weight of the logarithm of the word's own probability.
        beside: weight of the mean of that of its two neighbours.
        agreed: weight of the share of hypotheses, by their scores, that have the word.
        bias: where the curve lies.
    """

    own: float
    beside: float
    agreed: float
    bias: float

    def calibrated(self, hypotheses: Sequence[Hypothesis]) -> tuple[Hypothesis, ...]:
        """The hypotheses of one utterance with the chance of each word in place of its probability."""
        return tuple(
            replace(one, words=tuple(self._sure(word, row) for word, row in zip(one.words, rows, strict=True)))
            for one, rows in zip(hypotheses, signs(hypotheses), strict=True)
        )  # fmt: skip

    def chance(self, own: float, beside: float, agreed: float) -> float:
        """Between 0 and 1."""
        nats = self.own * own + self.beside * beside + self.agreed * agreed + self.bias
        return 1.0 / (1.0 + exp(-nats))

    def _sure(self, word: Word, row: tuple[float, float, float]) -> Word:
        return replace(word, confidence=round(self.chance(*row), 3))


def signs(hypotheses: Sequence[Hypothesis]) -> list[list[tuple[float, float, float]]]:
    """Of each word of each hypothesis: its own nats, its neighbours' mean, the share that has it."""
    shares, sets = _shares(hypotheses), [set(map(_plain, one.words)) for one in hypotheses]
    return [
        [
            (nats, beside, sum(s for s, said in zip(shares, sets, strict=True) if _plain(word) in said))
            for word, nats, beside in zip(one.words, *_nats(one.words), strict=True)
        ]
        for one in hypotheses
    ]  # fmt: skip


def _nats(words: Sequence[Word]) -> tuple[list[float], list[float]]:
    own = [log(max(word.confidence or 0.0, FLOOR)) for word in words]
    beside = [own[max(0, at - 1) : at] + own[at + 1 : at + 2] for at in range(len(own))]
    return own, [sum(two) / len(two) if two else 0.0 for two in beside]


def _shares(hypotheses: Sequence[Hypothesis]) -> list[float]:
    best = max((one.score for one in hypotheses), default=0.0)
    weights = [exp(SHARPNESS * (one.score - best)) for one in hypotheses]
    return [weight / sum(weights) for weight in weights]


def _plain(word: Word) -> str:
    return "".join(c for c in word.text.casefold() if c.isalnum())
