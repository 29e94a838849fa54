"""Do confidence and doubt mean what they say? Words by confidence, findings by their mark."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

import jiwer

from voicelog.yardstick.strict import Tally
from voicelog.yardstick.words import plain
from yardstick.listening import Hearings
from yardstick.speech_set import Spoken


@dataclass(frozen=True, slots=True)
class Bin:
    """Predictions that lie near one another.

    Args:
        said: their mean.
        right: how many came true.
        count: how many there are.
    """

    said: float
    right: int
    count: int


def trusted(spoken: Iterable[Spoken], hearings: Hearings) -> Iterator[tuple[float, bool]]:
    """Every word an ear wrote: how sure it was, and whether the word was said there."""
    for each in spoken:
        heard = hearings.get(each.key)
        if heard is None or not heard.hypotheses:
            continue
        written = [
            (piece, word.confidence)
            for word in heard.hypotheses[0].words
            if word.confidence is not None
            for piece in plain(word.text).split()
        ]
        right = right_words(plain(each.text), [piece for piece, _ in written])
        yield from zip((sure for _, sure in written), right, strict=True)


def right_words(said: str, heard: Sequence[str]) -> list[bool]:
    """Of every word heard, whether it was said there."""
    right = [False] * len(heard)
    if said.split() and heard:
        for chunk in jiwer.process_words(said, " ".join(heard)).alignments[0]:
            for at in range(chunk.hyp_start_idx, chunk.hyp_end_idx):
                right[at] = chunk.type == "equal"
    return right


def bins(predicted: Iterable[tuple[float, bool]], number: int = 10) -> list[Bin]:
    """Predictions in bins of equal width, empty ones left out."""
    sorted_in: list[list[tuple[float, bool]]] = [[] for _ in range(number)]
    for chance, came in predicted:
        sorted_in[min(int(chance * number), number - 1)].append((chance, came))
    return [
        Bin(sum(chance for chance, _ in each) / len(each), sum(came for _, came in each), len(each))
        for each in sorted_in
        if each
    ]


def calibration_error(found: Sequence[Bin]) -> float:
    """Expected calibration error: the mean gap between what was said and what came true."""
    whole = sum(each.count for each in found)
    return sum(abs(each.said * each.count - each.right) for each in found) / whole if whole else 0.0


def doubt_bins(counts: Tally, promised: Tally) -> list[Bin]:
    """Findings marked doubtful and those that are not, as predictions of whether they are right.

    A mark has no number of its own: it is taken to promise the share that was right among the
    findings of the same mark in the tuning part.

    Args:
        counts: where it is measured.
        promised: of the tuning part.
    """
    return [
        Bin(before[0] / before[1] if before[1] else 0.0, right, count)
        for (right, count), before in zip(_marks(counts), _marks(promised), strict=True)
    ]


def _marks(counts: Tally) -> tuple[tuple[int, int], tuple[int, int]]:
    """Right ones and all, of the findings marked and of those not."""
    marked = counts.right_marked + counts.wrong_marked
    return (
        (counts.right_marked, marked),
        (counts.right - counts.right_marked, counts.right + counts.wrong - marked),
    )
