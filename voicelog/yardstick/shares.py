"""Shares, and how far one may be off by chance: 95 % intervals."""

from __future__ import annotations

from math import sqrt

Z = 1.959964
"""Standard deviations on either side of the middle that hold 95 % of a normal distribution."""


def wilson(part: int, whole: int) -> tuple[float, float]:
    """Where a share truly lies (E. B. Wilson, 1927), also near 0 and 1."""
    if not whole:
        return 0.0, 1.0
    share, z2 = part / whole, Z * Z
    middle = (share + z2 / (2 * whole)) / (1 + z2 / whole)
    half = Z * sqrt(share * (1 - share) / whole + z2 / (4 * whole * whole)) / (1 + z2 / whole)
    return max(0.0, middle - half), min(1.0, middle + half)


def share_text(part: int, whole: int) -> str:
    """A share in percent with its counts; a dash when there is nothing to share."""
    return f"{100 * part / whole:.1f} % ({part}/{whole})" if whole else "–"


def interval_text(part: int, whole: int) -> str:
    """Between which percentages a share truly lies; a dash when there is nothing to share."""
    low, high = wilson(part, whole)
    return f"{100 * low:.0f} to {100 * high:.0f} %" if whole else "–"
