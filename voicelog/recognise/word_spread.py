"""Laying words over sound: the division of a stretch of time that costs least.

Silence in a word costs, so does speech between words, a word much longer or shorter than its
letters say, and a boundary that is loud. All weights are ours, chosen by trial, for the most part
on other synthetic speech than the figures of :mod:`~voicelog.recognise.word_times` come from.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from numpy import float64, intp
    from numpy.typing import NDArray

    Floats = NDArray[float64]
    Indices = NDArray[intp]

SILENT_FRAME = 0.15
"""A frame of silence in a word; the unit is a word twice as long, or half as long, as expected."""

LEFT_OUT_FRAME = 0.25
"""A frame of speech in no word."""

PAUSE = 0.5
"""A pause between two words, but for one after a comma or full stop, which costs nothing."""

LOUD_BOUNDARY = 0.6
"""A word that begins where the sound is as loud as ever."""

DRAWN_OUT = 1.2
"""Words before a pause are longer by about this much, as is well known of English."""

_BREAKS = (".", ",", ";", ":", "!", "?")
_DIGIT = 4
"""Letters in the name of a digit, about."""

_LONGEST = 80
"""Frames tried for any word, at least: 1.6 s."""


def length(word: str) -> float:
    """How long a word is to say, in letters; two more for what every word takes."""
    letters = sum(_DIGIT if c.isdigit() else c.isalpha() for c in word)
    return (2.0 + letters) * (DRAWN_OUT if word.endswith(_BREAKS) else 1.0)


def spread(words: Sequence[str], speech: Floats, level: Floats) -> tuple[tuple[int, int], ...]:
    """Where each of some words lies.

    Args:
        words: in order.
        speech: how sure it is, 0 to 1, that each frame holds speech, shape (frames,).
        level: how loud each is, 0 to about 1, shape (frames,).

    Returns:
        First frame and the one after the last, a pair for each word; they never overlap. Nothing
        where there are fewer frames than words.
    """
    if len(speech) < len(words):
        return ()
    costs = _Costs(words, speech, level)
    spent, steps = costs.left_out.copy(), []
    for nth in range(len(words)):
        spent, step = costs.with_word(nth, spent)
        steps.append(step)
    spans, until = [], len(speech)
    for starts, ends in reversed(steps):
        end = int(ends[until])
        until = int(starts[end])
        spans.append((until, end))
    return tuple(reversed(spans))


class _Costs:
    """What a division costs, frame by frame, for one stretch of sound."""

    def __init__(self, words: Sequence[str], speech: Floats, level: Floats) -> None:
        import numpy as np

        lengths = np.array([length(word) for word in words])
        if not words[-1].endswith(_BREAKS):
            lengths[-1] *= DRAWN_OUT
        a_letter = float(speech.sum()) / float(lengths.sum())
        self._expected = np.maximum(1.0, lengths * a_letter)
        self._pauses = [0.0 if word.endswith(_BREAKS) else PAUSE for word in words]
        self._pauses[-1] = 0.0
        self._most = min(len(speech), max(_LONGEST, int(2 * self._expected.max())))
        self.left_out = np.append(0.0, np.cumsum(LEFT_OUT_FRAME * speech))
        self._silent = np.append(0.0, np.cumsum(SILENT_FRAME * (1.0 - speech)))
        beside = np.minimum(level[1:], level[:-1])
        self._loud = LOUD_BOUNDARY * np.concatenate([level[:1], beside, level[-1:]])

    def with_word(self, nth: int, spent: Floats) -> tuple[Floats, tuple[Indices, Indices]]:
        """One word more.

        Args:
            nth: which.
            spent: the least that all words before it cost when the last frame before frame t, and
                a pause if there is any, is theirs, shape (frames + 1,).

        Returns:
            The same with this word; and, for every frame, where the word begins that ends there,
            and where the word ends that is followed by a pause up to there.
        """
        import numpy as np

        frames, most = np.arange(len(spent)), self._most
        before = np.append(np.full(most, np.inf), spent - self._silent)
        windows = np.lib.stride_tricks.sliding_window_view(before, most)[: len(spent), ::-1]
        lasting = np.arange(1, most + 1)
        costs = windows + np.log2(lasting / self._expected[nth]) ** 2
        best = costs.argmin(axis=1)
        ended = costs[frames, best] + self._silent + self._loud
        ahead = ended - self.left_out
        paused = np.minimum.accumulate(ahead) + self.left_out + self._pauses[nth]
        last = np.maximum.accumulate(np.where(ahead <= np.minimum.accumulate(ahead), frames, 0))
        ends = np.where(ended <= paused, frames, last)
        return np.minimum(ended, paused), (frames - 1 - best, ends)
