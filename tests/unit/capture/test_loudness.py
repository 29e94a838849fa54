"""When noise counts as too loud to hear words in."""

from __future__ import annotations

import itertools

import pytest

from voicelog.capture.loudness import USUAL_DBFS, Loudness

TENTHS = 0.1


def _run(loudness: Loudness, noise_dbfs: float, seconds: float, from_s: float = 0.0) -> list[bool]:
    return [
        loudness.take(noise_dbfs, from_s + n * TENTHS) for n in range(1, round(seconds * 10) + 1)
    ]


def test_noise_near_the_usual_level_counts_after_two_seconds() -> None:
    """Within 5 dB of the voice: not at once, then for as long as it lasts."""
    told = _run(Loudness(), USUAL_DBFS - 4, 4.0)
    assert told.index(True) == 20
    assert all(told[20:])


def test_noise_well_below_the_voice_never_counts() -> None:
    """6 dB below is not quiet, and words come through."""
    assert not any(_run(Loudness(), USUAL_DBFS - 6, 60.0))


def test_short_noise_does_not_count() -> None:
    """1.5 s of it, again and again, with quiet between."""
    loudness = Loudness()
    for n in range(10):
        assert not any(_run(loudness, -10.0, 1.5, from_s=2.0 * n))
        assert not any(_run(loudness, -60.0, 0.5, from_s=2.0 * n + 1.5))


def test_clears_only_well_below_and_after_three_seconds() -> None:
    """Between the two thresholds it stays too loud; 8 dB below the voice clears it, in time."""
    loudness = Loudness()
    _run(loudness, USUAL_DBFS, 3.0)
    assert all(_run(loudness, USUAL_DBFS - 7, 30.0, from_s=3.0))
    told = _run(loudness, USUAL_DBFS - 9, 5.0, from_s=33.0)
    assert told.index(False) == 30
    assert not any(told[30:])


def test_wavering_noise_is_told_once() -> None:
    """An air tool with pauses of two seconds: one change to too loud, none back."""
    loudness = Loudness()
    told = []
    for n in range(20):
        told += _run(loudness, -20.0, 3.0, from_s=5.0 * n)
        told += _run(loudness, -60.0, 2.0, from_s=5.0 * n + 3.0)
    assert sum(one != other for one, other in itertools.pairwise(told)) == 1


def test_loud_person_is_measured_by_their_own_voice() -> None:
    """Noise that would drown a soft voice leaves a loud one alone."""
    soft, loud = Loudness(), Loudness()
    for _ in range(5):
        soft.spoke(-40.0)
        loud.spoke(-12.0)
    assert any(_run(soft, -42.0, 5.0))
    assert not any(_run(loud, -25.0, 5.0))


def test_one_shout_does_not_change_the_usual_level() -> None:
    """It is the median of the last nine."""
    loudness = Loudness()
    for level in (-30.0, -31.0, -5.0, -29.0, -30.0):
        loudness.spoke(level)
    assert loudness.usual_dbfs == pytest.approx(-30.0)
    for _ in range(9):
        loudness.spoke(-20.0)
    assert loudness.usual_dbfs == pytest.approx(-20.0)


def test_noise_is_taken_off_what_was_heard() -> None:
    """Equal powers of voice and noise are 3 dB more than the voice; noise alone says nothing."""
    loudness = Loudness()
    loudness.spoke(-26.99, -30.0)
    assert loudness.usual_dbfs == pytest.approx(-30.0, abs=0.05)
    loudness.spoke(-30.0, -30.0)
    loudness.spoke(-40.0, -30.0)
    assert loudness.usual_dbfs == pytest.approx(-30.0, abs=0.05)
