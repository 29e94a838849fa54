"""Levels in decibels below full scale, against their definition."""

from __future__ import annotations

import numpy as np
import pytest

from voicelog.capture.level import SILENCE_DBFS, level_dbfs, power_dbfs
from voicelog.capture.noise import NoiseFloor


def _pcm(samples: np.ndarray) -> bytes:
    return samples.astype("<i2").tobytes()


def test_full_scale_square_wave_is_0_db() -> None:
    """Root mean square equals full scale."""
    assert level_dbfs(_pcm(np.full(1000, -32768))) == pytest.approx(0.0)


def test_full_scale_sine_is_3_db_lower() -> None:
    """20 log10(1/sqrt 2) = -3.01 dB."""
    sine = 32767 * np.sin(2 * np.pi * 100 * np.arange(16_000) / 16_000)
    assert level_dbfs(_pcm(sine)) == pytest.approx(-3.01, abs=0.01)


def test_tenth_of_the_amplitude_is_20_db_lower() -> None:
    """A factor of ten in amplitude is 20 dB."""
    assert level_dbfs(_pcm(np.full(1000, 3277))) == pytest.approx(-20.0, abs=0.01)


@pytest.mark.parametrize("pcm", [b"", b"\x01", bytes(2000)])
def test_silence_and_nothing_have_the_lowest_level(pcm: bytes) -> None:
    """No infinity comes out of the logarithm of nothing."""
    assert level_dbfs(pcm) == SILENCE_DBFS
    assert power_dbfs(0.0) == SILENCE_DBFS


def test_noise_floor_falls_faster_than_it_rises() -> None:
    """Ten blocks down take most of a fall over; ten blocks up little of a rise."""
    floor = NoiseFloor()
    floor.take(-30.0)
    for _ in range(10):
        floor.take(-60.0)
    assert floor.level_dbfs < -55.0
    low = floor.level_dbfs
    for _ in range(10):
        floor.take(-30.0)
    assert low < floor.level_dbfs < low + 8.0
