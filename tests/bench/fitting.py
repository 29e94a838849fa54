"""Fitting the curve of word confidences, and telling how good it is on voices it has not seen."""

from __future__ import annotations

from collections.abc import Sequence
from difflib import SequenceMatcher

import numpy as np
from kinds import words
from numpy.typing import NDArray
from yardstick.calibration import bins, calibration_error
from yardstick.speech_set import Spoken

from voicelog.domain.heard import Heard, Word
from voicelog.recognise.confidence import signs

Fit = NDArray[np.float64]
Heards = Sequence[tuple[Spoken, Heard]]

DRAWN = 1.0
"""Ridge that keeps weights small."""


def fitted(heard: Heards) -> Fit:
    """Weights of own, beside and agreed, and the constant; none of the weights below 0."""
    signs_of, right = table(heard)
    columns = [0, 1, 2]
    while True:
        fit = _logistic(signs_of[:, columns], right)
        below = [column for column, weight in zip(columns, fit[:-1], strict=True) if weight < 0]
        if not below:
            break
        columns = [column for column in columns if column not in below]
    whole = np.zeros(4)
    whole[columns], whole[3] = fit[:-1], fit[-1]
    return whole


def judged(heard: Heards) -> dict[str, str]:
    """Error of calibration and ranking before and after, each half judged by the other's fit.

    The voices are parted, the first half of them in order from the others.
    """
    names = list(dict.fromkeys(spoken.voice.name for spoken, _ in heard))
    half = names[: (len(names) + 1) // 2]
    halves = [[h for h in heard if (h[0].voice.name in half) is first] for first in (True, False)]
    told = {}
    for name, mine, other in (("first half", *halves), ("second half", *reversed(halves))):
        signs_of, right = table(other)
        before, after = np.exp(signs_of[:, 0]), chances(fitted(mine), signs_of)
        told[f"fitted on the {name}:"] = (
            f"calibration error {gap(before, right):.3f} -> {gap(after, right):.3f}, "
            f"ranking {ranking(before, right):.3f} -> {ranking(after, right):.3f}"
        )
    return told


def table(heard: Heards) -> tuple[NDArray[np.float64], NDArray[np.bool_]]:
    """The signs of every word of the best hypotheses, and whether it was right."""
    rows, right = [], []
    for spoken, one in heard:
        if one.hypotheses:
            rows += signs(one.hypotheses)[0]
            right += were_said(one.hypotheses[0].words, spoken.text)
    return np.array(rows), np.array(right)


def were_said(heard: Sequence[Word], text: str) -> list[bool]:
    """Whether each word stands where it was said."""
    parts = [(at, part) for at, word in enumerate(heard) for part in words(word.text) or [""]]
    pairs = SequenceMatcher(None, words(text), [part for _, part in parts], autojunk=False)
    fine = {n for _, b, size in pairs.get_matching_blocks() for n in range(b, b + size)}
    wrong = {at for n, (at, _) in enumerate(parts) if n not in fine}
    return [at not in wrong for at in range(len(heard))]


def chances(fit: Fit, signs_of: NDArray[np.float64]) -> NDArray[np.float64]:
    """The curve's value for each row."""
    return np.asarray(1 / (1 + np.exp(-(signs_of @ fit[:3] + fit[3]))))


def gap(chance: NDArray[np.float64], right: NDArray[np.bool_]) -> float:
    """Expected calibration error: mean distance of chance and share right, in ten bins."""
    return calibration_error(bins(zip(chance.tolist(), right.tolist(), strict=True)))


def ranking(chance: NDArray[np.float64], right: NDArray[np.bool_]) -> float:
    """How often a right word is surer than a wrong one (area under the curve); a tie counts half."""
    _, at, ties = np.unique(chance, return_inverse=True, return_counts=True)
    order = (np.cumsum(ties) - (ties - 1) / 2)[at]
    rights, wrongs = right.sum(), (~right).sum()
    return float((order[right].sum() - rights * (rights + 1) / 2) / (rights * wrongs))


def _logistic(signs_of: NDArray[np.float64], right: NDArray[np.bool_]) -> Fit:
    """Newton's method with a ridge on all but the constant."""
    table_ = np.c_[signs_of, np.ones(len(signs_of))]
    ridge, fit = np.diag([*[DRAWN] * signs_of.shape[1], 0.0]), np.zeros(table_.shape[1])
    for _ in range(30):
        chance = 1 / (1 + np.exp(-table_ @ fit))
        slope = table_.T @ (chance - right) + ridge @ fit
        fit = fit - np.linalg.solve(
            (table_ * (chance * (1 - chance))[:, None]).T @ table_ + ridge, slope
        )
    return fit
