"""Sound that is no speech, for the tests of what must never make an entry.

Synthesised from one seed by the makers of ``audio_samples/make.py`` where it has one, and recorded:
``car_door``, ``punch``, ``boom`` and ``whiff`` from the examples of the package pygame-ce.
"""

from __future__ import annotations

import importlib.util
from pathlib import Path

import numpy as np
import soundfile
import soxr

from voicelog.domain.sound import SAMPLE_RATE

Sound = np.ndarray
RECORDED = ("car_door", "punch", "boom", "whiff")
SECONDS = 6


def pcm(sound: Sound) -> bytes:
    """Samples between -1 and 1 as 16-bit PCM."""
    return (np.clip(sound, -1, 1) * 32767).astype("<i2").tobytes()


def room(seconds: float, rng: np.random.Generator) -> Sound:
    """A quiet room at -72 dBFS."""
    return rng.standard_normal(round(seconds * SAMPLE_RATE)) * 10 ** (-72 / 20)


def level(sound: Sound, peak_dbfs: float) -> Sound:
    """The sound with its peak put there."""
    return sound / np.abs(sound).max() * 10 ** (peak_dbfs / 20)


def recorded(name: str) -> Sound:
    """A recorded impact at 16 kHz, one channel."""
    spec = importlib.util.find_spec("pygame")
    assert spec is not None
    assert spec.origin is not None
    file = Path(spec.origin).parent / "examples" / "data" / f"{name}.wav"
    sound, rate = soundfile.read(file, dtype="float64", always_2d=True)
    return np.asarray(soxr.resample(sound.mean(axis=1), rate, SAMPLE_RATE))


def tap(rng: np.random.Generator, hertz: tuple[float, float], ring_s: float) -> Sound:
    """One blow on metal: three ringing modes and a click."""
    time = np.arange(round(8 * ring_s * SAMPLE_RATE)) / SAMPLE_RATE
    modes = sum(
        rng.uniform(0.4, 1.0) * np.exp(-time / (ring_s * rng.uniform(0.5, 1.0)))
        * np.sin(2 * np.pi * rng.uniform(*hertz) * time)
        for _ in range(3)
    )  # fmt: skip
    return modes + rng.standard_normal(len(time)) * np.exp(-time / 0.002)


def scrape(rng: np.random.Generator, seconds: float) -> Sound:
    """A scraper over rust: bright noise that swells and fades, three times a second."""
    length = round(seconds * SAMPLE_RATE)
    hiss = np.diff(rng.standard_normal(length + 1))
    return hiss * np.abs(np.sin(np.pi * 3 * np.arange(length) / SAMPLE_RATE)) ** 2


def ratchet(rng: np.random.Generator, seconds: float, hertz: float) -> Sound:
    """An air tool's burst: bright hiss chopped so often a second, running up to speed."""
    time = np.arange(round(seconds * SAMPLE_RATE)) / SAMPLE_RATE
    chop = 0.5 + 0.5 * np.sign(np.sin(2 * np.pi * hertz * time * (1 - 0.3 * np.exp(-time * 5))))
    return np.diff(rng.standard_normal(len(time) + 1)) * (0.2 + chop)


def grinder(rng: np.random.Generator, seconds: float) -> Sound:
    """A tool with a pitch: harmonics that fall when it meets metal, over hiss."""
    time = np.arange(round(seconds * SAMPLE_RATE)) / SAMPLE_RATE
    phase = 2 * np.pi * np.cumsum(180 - 40 * np.sin(2 * np.pi * 0.7 * time)) / SAMPLE_RATE
    whine = sum(np.sin(n * phase) / n for n in range(1, 12))
    return whine + 0.3 * rng.standard_normal(len(time))


def repeated(one: list[Sound], rng: np.random.Generator, every_s: tuple[float, float]) -> Sound:
    """Six seconds of these, at irregular distances, over a quiet room."""
    sound, at = room(SECONDS, rng), 0.2
    while at < SECONDS - 0.1:
        here = one[int(rng.integers(len(one)))]
        start = round(at * SAMPLE_RATE)
        end = min(len(sound), start + len(here))
        sound[start:end] += here[: end - start]
        at += rng.uniform(*every_s)
    return sound


def kinds(seed: int) -> dict[str, Sound]:
    """Six seconds of each kind, loud: a name to its sound."""
    rng = np.random.default_rng(seed)
    taps = [level(tap(rng, (900, 5000), 0.03), -6) for _ in range(6)]
    thuds = [level(tap(rng, (80, 400), 0.05), -6) for _ in range(6)]
    bells = [level(tap(rng, (300, 2500), 0.35), -9) for _ in range(6)]
    tools = [level(ratchet(rng, rng.uniform(0.2, 1.2), rng.uniform(20, 120)), -8) for _ in range(6)]
    made = {
        "taps": repeated(taps, rng, (0.3, 0.9)),
        "quick taps": repeated(taps, rng, (0.12, 0.3)),
        "thuds": repeated(thuds, rng, (0.3, 0.9)),
        "ringing blows": repeated(bells, rng, (0.5, 1.5)),
        "air tool": repeated(tools, rng, (0.5, 1.8)),
        "scraping": repeated([level(scrape(rng, 1.0), -14)], rng, (1.0, 2.0)),
        "grinder": repeated([level(grinder(rng, 1.5), -10)], rng, (1.6, 2.4)),
    }
    for name in RECORDED:
        made[name] = repeated([level(recorded(name), -3)], rng, (0.6, 1.6))
    return made


SINGLE = ("tap", "thud", "bell", "burst", *RECORDED)
"""Names that :func:`single` knows."""


def single(name: str, rng: np.random.Generator) -> Sound:
    """One impact, or one burst of an air tool."""
    made = {
        "tap": lambda: tap(rng, (900, 5000), 0.03),
        "thud": lambda: tap(rng, (80, 400), 0.05),
        "bell": lambda: tap(rng, (300, 2500), 0.35),
        "burst": lambda: ratchet(rng, rng.uniform(0.2, 1.0), rng.uniform(20, 120)),
    }
    return recorded(name) if name in RECORDED else made[name]()


def with_two(sound: Sound, name: str, peak_dbfs: float, seed: int) -> Sound:
    """The sound with two of these at seeded places in the part that holds speech."""
    rng, mixed = np.random.default_rng(seed), sound.copy()
    for _ in range(2):
        one = level(single(name, rng), peak_dbfs)
        at = int(rng.integers(SAMPLE_RATE // 2, len(sound) - 3 * SAMPLE_RATE // 4))
        end = min(len(mixed), at + len(one))
        mixed[at:end] += one[: end - at]
    return mixed
