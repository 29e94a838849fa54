"""Ten readings a second, whatever the sound comes in."""

from __future__ import annotations

import numpy as np
import pytest

from voicelog.capture.level import SILENCE_DBFS
from voicelog.capture.meter import Meter

SQUARE = np.full(1600, 3277, "<i2").tobytes()
"""A tenth of a second at -20 dBFS."""


@pytest.mark.parametrize("size", [2, 1024, 3200, 64_000])
def test_ten_a_second_of_any_blocks(size: int) -> None:
    """Two seconds make twenty readings, by the sample or all at once."""
    meter, sound = Meter(), SQUARE * 20
    shown = [r for at in range(0, len(sound), size) for r in meter.feed(sound[at : at + size])]
    assert [r.level_dbfs for r in shown] == pytest.approx([-20.0] * 20, abs=0.01)
    assert not any(r.clipped for r in shown)


def test_clipping_marks_the_reading_it_falls_into() -> None:
    """And only that one, also when its tenth of a second is completed later."""
    meter = Meter()
    assert meter.feed(SQUARE[:1000], clipped=True) == []
    assert [r.clipped for r in meter.feed(SQUARE * 2)] == [True, False]


def test_silence_is_the_lowest_level() -> None:
    """Zeros are -96 dBFS, no error."""
    assert [r.level_dbfs for r in Meter().feed(bytes(3200))] == [SILENCE_DBFS]
