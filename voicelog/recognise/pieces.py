"""Utterances that are heard in pieces: cutting long sound, and joining what was heard."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

from voicelog.domain.heard import Hypothesis
from voicelog.domain.sound import SAMPLE_RATE

if TYPE_CHECKING:
    from numpy import float32
    from numpy.typing import NDArray

    Floats = NDArray[float32]

MOST_HYPOTHESES = 4
"""Hypotheses an ear gives of an utterance at most."""

PAUSE_S = 0.2
"""Length of the moment whose level decides where to cut."""


def split(samples: Floats, *, longest_s: float, within_s: float) -> Iterator[Floats]:
    """Pieces of a sound, none longer than a limit, cut where it is quietest.

    Args:
        samples: -1 to 1 at 16 kHz, shape (samples,).
        longest_s: the limit.
        within_s: how far back from the limit a quiet moment is looked for.
    """
    longest, within = int(longest_s * SAMPLE_RATE), int(within_s * SAMPLE_RATE)
    while len(samples) > longest:
        at = longest - within + _quietest(samples[longest - within : longest])
        yield samples[:at]
        samples = samples[at:]
    yield samples


def _quietest(samples: Floats) -> int:
    """Middle of the quietest moment."""
    import numpy as np

    size = int(PAUSE_S * SAMPLE_RATE)
    sums = np.concatenate(([0.0], np.cumsum(samples.astype(np.float64) ** 2)))
    return int(np.argmin(sums[size:] - sums[:-size])) + size // 2


def joined(pieces: Sequence[Sequence[Hypothesis]]) -> tuple[Hypothesis, ...]:
    """One utterance of what was heard in its pieces, best first.

    The best has every piece's best; each of the others differs from it in one piece. Pieces in
    which nothing was heard are left out.
    """
    segments = [piece for piece in pieces if piece]
    if not segments:
        return ()
    best = [segment[0] for segment in segments]
    rows = [best] + [
        [*best[:n], other, *best[n + 1 :]]
        for n, segment in enumerate(segments)
        for other in segment[1:]
    ]
    whole = [_join(row) for row in rows]
    return tuple(sorted(whole, key=lambda h: -h.score)[:MOST_HYPOTHESES])


def _join(row: Sequence[Hypothesis]) -> Hypothesis:
    return Hypothesis(
        " ".join(part.text for part in row),
        sum(part.score for part in row),
        tuple(word for part in row for word in part.words),
    )
