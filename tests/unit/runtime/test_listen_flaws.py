"""Faults of a microphone beside its levels, on a sentence of the demo made worse in known ways."""

from __future__ import annotations

import numpy as np
import pytest
import soundfile
import soxr
from numpy.typing import NDArray

from voicelog.config.data import samples_dir
from voicelog.runtime.listen_flaws import REMEDY, Flaw, flaws_of

Sound = NDArray[np.float64]

RATE = 16_000


@pytest.fixture
def sentence() -> Sound:
    """Three seconds of the demo, as the check records them."""
    sound, _ = soundfile.read(samples_dir() / "d01.flac", dtype="float64")
    return np.asarray(sound[: 3 * RATE])


def _flaws(sound: Sound) -> tuple[Flaw, ...]:
    return flaws_of(np.round(np.clip(sound, -1, 1) * 32767).astype("<i2").tobytes())


def _telephone(sound: Sound) -> Sound:
    return np.asarray(soxr.resample(soxr.resample(sound, RATE, 8000), 8000, RATE))


def _hum(length: int, dbfs: float, hertz: float = 50.0) -> Sound:
    turns = 2 * np.pi * hertz * np.arange(length) / RATE
    return 10 ** (dbfs / 20) * (np.sin(turns) + np.sin(2 * turns))


def test_good_sound_has_none(sentence: Sound) -> None:
    """Nor has the same, soft or with hiss behind it."""
    hiss = np.random.default_rng(1).standard_normal(len(sentence)) * 0.01
    assert [_flaws(s) for s in (sentence, 0.1 * sentence, sentence + hiss)] == [(), (), ()]


@pytest.mark.parametrize("gain", [1.0, 0.2])
def test_telephone_band_is_noticed(sentence: Sound, gain: float) -> None:
    """Loud or soft, as long as words can be heard at all."""
    assert _flaws(gain * _telephone(sentence)) == (Flaw.NARROW,)


def test_telephone_band_is_noticed_in_noise(sentence: Sound) -> None:
    """The noise comes through the same band."""
    hiss = np.random.default_rng(1).standard_normal(len(sentence)) * 0.02
    assert _flaws(_telephone(sentence + hiss)) == (Flaw.NARROW,)


@pytest.mark.parametrize("hertz", [50.0, 60.0])
def test_mains_hum_is_noticed(sentence: Sound, hertz: float) -> None:
    """Of either mains, with its first harmonic."""
    assert _flaws(sentence + _hum(len(sentence), -40.0, hertz)) == (Flaw.HUM,)


def test_soft_hum_is_no_matter(sentence: Sound) -> None:
    """Far below the words nobody need look for a lead."""
    assert _flaws(sentence + _hum(len(sentence), -60.0)) == ()


def test_offset_is_noticed(sentence: Sound) -> None:
    """Either way; a quarter of the limit is not."""
    assert _flaws(sentence + 0.01) == _flaws(sentence - 0.01) == (Flaw.OFFSET,)
    assert _flaws(sentence + 0.001) == ()


def test_several_at_once(sentence: Sound) -> None:
    """Each with what to do about it."""
    sound = _telephone(sentence) + _hum(len(sentence), -35.0) + 0.02
    assert _flaws(sound) == (Flaw.NARROW, Flaw.HUM, Flaw.OFFSET)
    assert set(REMEDY) == set(Flaw)


def test_nobody_speaking_is_no_telephone() -> None:
    """A quiet room without hissing sounds, silence and no sound at all tell nothing."""
    room = _telephone(np.random.default_rng(1).standard_normal(3 * RATE) * 0.001)
    assert _flaws(room) == ()
    assert flaws_of(bytes(6 * RATE)) == ()
    assert flaws_of(b"") == ()
