"""Sound for the tests of capture: recorded speech that packages carry, and seeded shop noise."""

from __future__ import annotations

import importlib.util
from collections.abc import Callable, Iterable
from pathlib import Path

import numpy as np
import pytest

from voicelog.capture.endpoint import Endpointer
from voicelog.capture.source import read_audio
from voicelog.domain.sound import SAMPLE_RATE, Clip

Sound = np.ndarray
Cut = Callable[..., list[Clip]]


def _assets() -> Path:
    spec = importlib.util.find_spec("moonshine_voice")
    assert spec is not None
    assert spec.origin is not None
    return Path(spec.origin).parent / "assets"


@pytest.fixture(scope="session")
def beckett() -> Path:
    """Ten seconds of a person reading (16 kHz), from the wheel moonshine-voice 0.0.49."""
    return _assets() / "beckett.wav"


@pytest.fixture(scope="session")
def two_cities() -> Path:
    """44 seconds of a person reading (48 kHz), from the wheel moonshine-voice 0.0.49."""
    return _assets() / "two_cities.wav"


@pytest.fixture(scope="session")
def speech(beckett: Path) -> bytes:
    """The ten seconds as PCM."""
    return b"".join(read_audio(beckett))


@pytest.fixture(scope="session")
def monologue(two_cities: Path) -> bytes:
    """65 s of recorded speech without a pause of more than a third of a second.

    Longer pauses are shortened, so that nothing but the length limit can close an utterance.
    """
    spoken = b"".join(read_audio(two_cities))
    clips = Endpointer(silence_s=0.1)
    parts = [clip.pcm for clip in (*clips.feed(spoken), *clips.finish())]
    return (b"".join(parts) * 3)[: 65 * SAMPLE_RATE * 2]


@pytest.fixture(scope="session")
def cut() -> Cut:
    """Run an endpointer over sound and give its clips."""

    def run(sound: Iterable[bytes], **settings: object) -> list[Clip]:
        endpointer = Endpointer(**settings)  # type: ignore[arg-type]
        clips = [clip for block in sound for clip in endpointer.feed(block)]
        return clips + endpointer.finish()

    return run


def pcm(samples: Sound) -> bytes:
    """Samples between -1 and 1 as PCM."""
    return (np.clip(samples, -1, 1) * 32767).astype("<i2").tobytes()


def _taps(rng: np.random.Generator, seconds: int, decay: float) -> Sound:
    """Blows on metal, two a second: a burst of noise and a ringing tone that die away."""
    sound, length = np.zeros(seconds * SAMPLE_RATE), 3 * SAMPLE_RATE // 10
    fading = np.exp(-np.arange(length) / decay)
    for _ in range(2 * seconds):
        at, pitch = int(rng.integers(0, len(sound) - length)), rng.uniform(300, 4000)
        ring = np.sin(2 * np.pi * pitch * np.arange(length) / SAMPLE_RATE)
        sound[at : at + length] += 0.4 * fading * (ring + 0.5 * rng.standard_normal(length))
    return sound


def _tool(rng: np.random.Generator, seconds: int) -> Sound:
    """Bursts of an air tool: noise chopped at 20 to 120 Hz, every four seconds."""
    sound = np.zeros(seconds * SAMPLE_RATE)
    for start in range(0, seconds - 3, 4):
        length = int(SAMPLE_RATE * rng.uniform(0.3, 3))
        chop = np.sign(np.sin(2 * np.pi * rng.uniform(20, 120) * np.arange(length) / SAMPLE_RATE))
        burst = 0.3 * rng.standard_normal(length) * (1 + 0.8 * chop)
        sound[start * SAMPLE_RATE :][:length] += burst
    return sound


def _pink(rng: np.random.Generator, seconds: int) -> Sound:
    spectrum = np.fft.rfft(rng.standard_normal(seconds * SAMPLE_RATE))
    sound = np.fft.irfft(spectrum / np.sqrt(np.maximum(1, np.arange(len(spectrum)))))
    return 0.1 * sound / sound.std()


def _hum(seconds: int) -> Sound:
    """A compressor: mains hum with two harmonics."""
    at = np.arange(seconds * SAMPLE_RATE) / SAMPLE_RATE
    return sum(0.2 / n * np.sin(2 * np.pi * 50 * n * at) for n in (1, 2, 3))


@pytest.fixture(scope="session")
def shop_noise() -> dict[str, bytes]:
    """Twenty seconds of each kind of noise without speech, from one seed."""
    rng, seconds = np.random.default_rng(3), 20
    kinds = {
        "taps": _taps(rng, seconds, 200.0),
        "ringing": _taps(rng, seconds, 1500.0),
        "tool": _tool(rng, seconds),
        "pink": _pink(rng, seconds),
        "hum": _hum(seconds),
        "silence": np.zeros(seconds * SAMPLE_RATE),
    }
    kinds["all"] = 0.5 * sum(kinds.values())
    return {name: pcm(sound) for name, sound in kinds.items()}
