"""What the bench of the front end counts of clips heard in several ways, and its rows."""

from __future__ import annotations

import statistics
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from math import comb

import numpy as np
from yardstick.speech_set import Spoken

from voicelog.domain.heard import Heard
from voicelog.yardstick.words import Words

TIMES = 2000
"""Draws for an interval."""
Name = tuple[str, str]
"""A microphone, empty for the studio's, and a treatment."""


@dataclass(frozen=True, slots=True)
class Outcome:
    """One clip heard in one way.

    Args:
        of: the clip.
        made: what the ear made of it.
        exact: its finding came out exactly.
        beside: it did when read together with what was heard without any treatment.
        words: its word errors.
        clean_s: seconds the treatment took.
        hear_s: seconds the ear took.
    """

    of: Spoken
    made: Heard
    exact: bool
    beside: bool
    words: Words
    clean_s: float
    hear_s: float

    @property
    def loud(self) -> bool:
        """It is a noisy clip."""
        return self.of.condition.snr_db is not None


Found = dict[Name, dict[str, Outcome]]
"""By what was tried, then by the clip."""
Pairs = Sequence[tuple[Outcome, Outcome]]
"""Treated, and as it was."""
HEAD = (
    "sound", "exact, quiet", "word errors", "won / lost", "exact, noise", "word errors",
    "difference in noise", "won / lost", "chance", "beside: quiet; noise", "ms to clean", "ms to hear",
)  # fmt: skip


def rows(found: Found) -> Iterator[list[str]]:
    """One a way: against what came to the same microphone, or to the studio's."""
    for (microphone, treatment), by_clip in found.items():
        against = found["" if treatment == "as it is" else microphone, "as it is"]
        pairs = [(outcome, against[clip]) for clip, outcome in by_clip.items()]
        quiet, noisy = ([p for p in pairs if p[0].loud == loud] for loud in (False, True))
        yield [
            ": ".join(filter(None, (microphone, treatment))),
            *_shares([o for o, _ in quiet]), _split(quiet), *_shares([o for o, _ in noisy]),
            *_difference(noisy), "; ".join((_beside(quiet), _beside(noisy))),
            _ms(o.clean_s for o, _ in pairs), _ms(o.hear_s for o, _ in pairs),
        ]  # fmt: skip


def _shares(among: Sequence[Outcome]) -> tuple[str, str]:
    """Exact findings and word errors."""
    if not among:
        return "–", "–"
    words = sum((o.words for o in among), Words())
    return f"{100 * statistics.mean(o.exact for o in among):.1f} %", f"{100 * words.rate:.1f} %"


def _difference(pairs: Pairs) -> tuple[str, str, str]:
    """Points and their interval, won and lost, chance."""
    texts: dict[str, list[int]] = {}
    for treated, before in pairs:
        texts.setdefault(treated.of.text, []).append(treated.exact - before.exact)
    if not texts:
        return "–", "–", "–"
    gains = [gain for of_text in texts.values() for gain in of_text]
    low, high = interval(list(texts.values()))
    return (
        f"{100 * statistics.mean(gains):+.1f} ({low:+.1f} to {high:+.1f})", _split(pairs),
        f"{chance(gains.count(1), gains.count(-1)):.2f}",
    )  # fmt: skip


def _split(pairs: Pairs) -> str:
    gains = [treated.exact - before.exact for treated, before in pairs]
    return f"{gains.count(1)} / {gains.count(-1)}"


def _beside(pairs: Pairs) -> str:
    gains = [treated.beside - before.exact for treated, before in pairs]
    return f"{gains.count(1)} / {gains.count(-1)}"


def _ms(seconds: Iterable[float]) -> str:
    return f"{1000 * statistics.median(seconds):.0f}"


def chance(won: int, lost: int) -> float:
    """Of a split at least so uneven, were winning and losing alike (two-sided sign test)."""
    few, both = min(won, lost), won + lost
    return min(1.0, 2 * sum(comb(both, n) for n in range(few + 1)) / float(2**both))


def interval(gains: Sequence[Sequence[int]]) -> tuple[float, float]:
    """95 % of the difference in points, texts drawn again with all their clips.

    Args:
        gains: of each text, 1, 0 or -1 for each of its clips.
    """
    rng = np.random.default_rng(0)
    sums, sizes = np.array([sum(g) for g in gains]), np.array([len(g) for g in gains])
    drawn = rng.integers(len(gains), size=(TIMES, len(gains)))
    points = 100 * sums[drawn].sum(axis=1) / sizes[drawn].sum(axis=1)
    low, high = np.quantile(points, (0.025, 0.975))
    return float(low), float(high)
