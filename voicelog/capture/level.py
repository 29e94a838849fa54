"""How loud sound is, in decibels below full scale."""

from __future__ import annotations

import math

SILENCE_DBFS = -96.0
"""What silence is given as: the smallest step of 16-bit sound lies about there."""

_FULL_SCALE = 32768.0


def level_dbfs(pcm: bytes) -> float:
    """Root-mean-square level of 16-bit mono samples, a full-scale square wave being 0 dB.

    Args:
        pcm: signed 16-bit little-endian samples; none at all count as silence.
    """
    import numpy as np

    if len(pcm) < 2:
        return SILENCE_DBFS
    samples = np.frombuffer(pcm, "<i2").astype(np.float64) / _FULL_SCALE
    return power_dbfs(float(np.mean(samples**2)))


def power_dbfs(power: float) -> float:
    """Mean square of samples between -1 and 1, as a level in decibels."""
    return max(SILENCE_DBFS, 10.0 * math.log10(power)) if power > 0.0 else SILENCE_DBFS
