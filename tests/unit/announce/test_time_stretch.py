"""Slower at the same pitch, with the library that does it and without."""

from __future__ import annotations

import sys
from collections.abc import Iterator
from pathlib import Path

import numpy as np
import pytest
import soundfile
from numpy.typing import NDArray

from voicelog.announce import time_stretch
from voicelog.announce.time_stretch import slower, why_not
from voicelog.errors import VoiceFault

RATE_HZ = 16_000
SPEECH = Path(__file__).parents[3] / "audio_samples" / "d12.flac"
Floats = NDArray[np.float32]


def _tone(hz: float, seconds: float = 2.0) -> Floats:
    at_s = np.arange(round(seconds * RATE_HZ)) / RATE_HZ
    return (0.5 * np.sin(2.0 * np.pi * hz * at_s)).astype(np.float32)


def _dominant_hz(samples: Floats) -> float:
    spectrum = np.abs(np.fft.rfft(samples * np.hanning(len(samples)), 1 << 18))
    return float(spectrum.argmax()) * RATE_HZ / (1 << 18)


@pytest.mark.parametrize("speed", [0.5, 0.6, 0.75, 0.9, 1.5])
@pytest.mark.parametrize("hz", [120.0, 440.0, 3_000.0])
def test_a_tone_lasts_longer_and_keeps_its_pitch(hz: float, speed: float) -> None:
    """Length within 2 %, pitch within 1 %, loudness within 1 dB."""
    stretched = slower(_tone(hz), RATE_HZ, speed)
    assert len(stretched) * speed == pytest.approx(2.0 * RATE_HZ, rel=0.02)
    assert _dominant_hz(stretched) == pytest.approx(hz, rel=0.01)
    middle = stretched[len(stretched) // 4 : -len(stretched) // 4]
    assert 20.0 * np.log10(np.sqrt(np.mean(middle**2)) / 0.3536) == pytest.approx(0.0, abs=1.0)


@pytest.mark.parametrize("speed", [0.5, 0.75, 1.5])
def test_speech_keeps_the_pitch_of_its_voice(speed: float) -> None:
    """Four seconds of a recording: length within 2 %, median pitch within 1 %."""
    said, rate_hz = soundfile.read(SPEECH, dtype="float32", frames=4 * RATE_HZ)
    stretched = slower(said, rate_hz, speed)
    assert len(stretched) * speed == pytest.approx(len(said), rel=0.02)
    assert _pitch_hz(stretched) == pytest.approx(_pitch_hz(said), rel=0.01)


def _pitch_hz(samples: Floats) -> float:
    """Median over the clearly voiced windows of 64 ms, by autocorrelation from 70 to 320 Hz."""
    windows = np.lib.stride_tricks.sliding_window_view(samples, 1024)[::640] * np.hanning(1024)
    power = np.abs(np.fft.rfft(windows, 16_384)) ** 2
    power[:, 1024:] = 0.0  # up to 1 kHz: the melody
    alike = np.fft.irfft(power, 65_536)  # four lags a sample
    lags = np.arange(4 * RATE_HZ // 320, 4 * RATE_HZ // 70)
    best = alike[:, lags].max(axis=1) / np.maximum(alike[:, 0], 1e-12)
    voiced = (best > 0.6) & (alike[:, 0] > 0.1 * alike[:, 0].max())
    assert voiced.sum() > 15
    return 4.0 * RATE_HZ / float(np.median(lags[alike[voiced][:, lags].argmax(axis=1)]))


@pytest.mark.parametrize("speed", [0.5, 0.75, 1.5])
def test_what_was_said_at_a_time_is_where_it_should_be(speed: float) -> None:
    """Or the cursor would run beside the words: each of three tones begins within 15 ms."""
    said = np.zeros(3 * RATE_HZ, np.float32)
    begins_s = (0.5, 1.2, 2.2)
    for begin_s in begins_s:
        at = round(begin_s * RATE_HZ)
        said[at : at + RATE_HZ // 5] = _tone(300.0, 0.2)
    sounds = np.flatnonzero(np.abs(slower(said, RATE_HZ, speed)) > 0.1)
    first = sounds[np.append(True, np.diff(sounds) > RATE_HZ // 10)]
    assert first / RATE_HZ * speed == pytest.approx(begins_s, abs=0.015)


def test_full_speed_and_no_sound_are_given_back() -> None:
    """Sample for sample: nothing is done to them."""
    said, none = _tone(440.0), np.zeros(0, np.float32)
    assert slower(said, RATE_HZ, 1.0) is said
    assert slower(none, RATE_HZ, 0.5) is none


@pytest.mark.parametrize("samples", [1, 2, 100])
def test_a_moment_of_sound_is_no_trouble(samples: int) -> None:
    """A part of a clip may be as short as that."""
    stretched = slower(np.full(samples, 0.5, np.float32), RATE_HZ, 0.5)
    assert len(stretched) == 2 * samples
    assert np.isfinite(stretched).all()


def test_the_same_sound_comes_out_every_time() -> None:
    """The stretcher's dice have a seed."""
    said, rate_hz = soundfile.read(SPEECH, dtype="float32", frames=RATE_HZ)
    assert np.array_equal(slower(said, rate_hz, 0.5), slower(said, rate_hz, 0.5))


@pytest.mark.parametrize("speed", [0.0, -1.0, 0.49, 1.51, float("nan")])
def test_a_speed_that_nobody_wants_is_refused(speed: float) -> None:
    """A quarter of the speed would be a mistake."""
    with pytest.raises(ValueError, match="outside 0.5 to 1.5"):
        slower(_tone(440.0, 0.1), RATE_HZ, speed)


@pytest.fixture
def no_library(monkeypatch: pytest.MonkeyPatch) -> Iterator[None]:
    """A machine without python-stretch."""
    monkeypatch.setitem(sys.modules, "python_stretch", None)
    time_stretch.library.cache_clear()
    yield
    time_stretch.library.cache_clear()


@pytest.mark.usefixtures("no_library")
def test_without_the_library_the_way_to_get_it_is_told() -> None:
    """Full speed needs none."""
    assert why_not().endswith("is not installed. pip install 'voicelog[voice]'")
    with pytest.raises(VoiceFault, match="at full speed only"):
        slower(_tone(440.0, 0.1), RATE_HZ, 0.5)
    assert len(slower(_tone(440.0, 0.1), RATE_HZ, 1.0)) == 1_600


def test_with_the_library_there_is_nothing_to_tell() -> None:
    """This machine has it."""
    assert why_not() == ""
