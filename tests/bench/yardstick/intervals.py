"""How far a share, a count or a difference may be off by chance: 95 % intervals."""

from __future__ import annotations

from collections.abc import Sequence
from math import sqrt

import numpy as np

Z = 1.959964
"""Standard deviations on either side of the middle that hold 95 % of a normal distribution."""
DRAWS = 2000


def wilson(part: int, whole: int) -> tuple[float, float]:
    """Where a share truly lies (E. B. Wilson, 1927), also near 0 and 1."""
    if not whole:
        return 0.0, 1.0
    share, z2 = part / whole, Z * Z
    middle = (share + z2 / (2 * whole)) / (1 + z2 / whole)
    half = Z * sqrt(share * (1 - share) / whole + z2 / (4 * whole * whole)) / (1 + z2 / whole)
    return max(0.0, middle - half), min(1.0, middle + half)


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
