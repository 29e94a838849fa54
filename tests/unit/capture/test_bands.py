"""What frequencies a recording is made of, against sounds whose level is known."""

from __future__ import annotations

import numpy as np
import pytest
from numpy.typing import NDArray

from voicelog.capture.bands import Bands

Sound = NDArray[np.float64]

TIME = np.arange(3 * 16_000) / 16_000
PAUSES = (TIME % 1.0 < 0.7).astype(np.float64)
"""Seven tenths of each second are spoken in."""


def _bands(sound: Sound) -> Bands:
    bands = Bands.of(np.round(sound * 32767).astype("<i2").tobytes())
    assert bands is not None
    return bands


def _sine(hertz: float, dbfs: float) -> Sound:
    return np.sqrt(2) * 10 ** (dbfs / 20) * np.sin(2 * np.pi * hertz * TIME)


def test_words_and_hissing_are_read_off_the_loud_moments() -> None:
    """Each sine counts in its own band, at its own level."""
    bands = _bands(PAUSES * (_sine(1000, -25) + _sine(6000, -45)))
    assert bands.words_dbfs == pytest.approx(-25, abs=0.5)
    assert bands.high_dbfs == pytest.approx(-45, abs=0.5)


def test_hum_is_read_off_the_pauses() -> None:
    """What is spoken over it counts neither as hum nor as the rest."""
    bands = _bands(PAUSES * _sine(1000, -20) + _sine(50, -30) + _sine(300, -50))
    assert bands.hum_dbfs == pytest.approx(-30, abs=0.5)
    assert bands.rest_dbfs == pytest.approx(-50, abs=0.5)


def test_offset_is_no_hum() -> None:
    """It is told as a share of full scale, and is not taken for a low tone."""
    bands = _bands(PAUSES * _sine(1000, -20) + 0.02)
    assert bands.offset == pytest.approx(0.02, abs=1e-3)
    assert bands.hum_dbfs < -70


def test_too_little_sound_gives_nothing() -> None:
    """Less than a tenth of a second cannot be judged."""
    assert Bands.of(bytes(2 * 1599)) is None
    assert Bands.of(b"") is None
