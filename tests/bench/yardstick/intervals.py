"""How far a count or a difference may be off by chance: 95 % intervals."""

from __future__ import annotations

from collections.abc import Sequence
from math import sqrt

import numpy as np

from voicelog.yardstick.shares import Z

DRAWS = 2000


def poisson(count: int) -> tuple[float, float]:
    """Where the expected number of rare events lies of which so many were seen.

    By Byar's approximation to the exact limits; without any event the upper one is 3.69.
    """
    if not count:
        return 0.0, 3.689
    lower = count * (1 - 1 / (9 * count) - Z / (3 * sqrt(count))) ** 3
    above = count + 1
    return lower, above * (1 - 1 / (9 * above) + Z / (3 * sqrt(above))) ** 3


def difference(first: Sequence[bool], second: Sequence[bool]) -> tuple[float, float]:
    """How much larger the first share is than the second over the same utterances, by bootstrap."""
    gains = np.asarray(first, float) - np.asarray(second, float)
    rng = np.random.default_rng(8)
    means = gains[rng.integers(len(gains), size=(DRAWS, len(gains)))].mean(axis=1)
    low, high = np.quantile(means, (0.025, 0.975))
    return float(low), float(high)
