"""Cheap microphones, made from good sound, and what evens them out: for the bench of the front end.

Evening out is what a calibration could do: one sentence spoken in quiet through the microphone, its
spectrum against that of all the tuning voices, and the difference taken off every later sound.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import numpy as np
import soxr
from front_ends import PEAK, Sound, Treatment, as_loud, filtered, levelled

from voicelog.domain.sound import SAMPLE_RATE

MOST_DB = 15.0
"""More than that is not taken off or added anywhere."""
_OCTAVE = 1 / 3


def telephone(sound: Sound) -> Sound:
    """Through 8 kHz, as a wireless headset sends it in its telephone mode."""
    narrow = soxr.resample(sound, SAMPLE_RATE, 8000)
    return np.pad(soxr.resample(narrow, 8000, SAMPLE_RATE), (0, len(sound)))[: len(sound)]


def boomy(sound: Sound) -> Sound:
    """Held at the mouth: up to 14 dB more below 300 Hz, 12 dB less above 3 kHz."""
    return _bent(sound, {100: 14, 300: 8, 1000: 0, 3000: -6, 6000: -12})


def tinny(sound: Sound) -> Sound:
    """A small capsule: nothing below 500 Hz, a peak at 3 kHz."""
    return _bent(sound, {100: -30, 300: -18, 600: -6, 1000: 0, 3000: 10, 6000: 4})


def soft(sound: Sound) -> Sound:
    """Turned down to -60 dBFS, in 16 bits."""
    return np.round(levelled(sound, dbfs=-60.0) * 32768) / 32768


def clipped(sound: Sound) -> Sound:
    """Turned up so far that its loud moments are cut off."""
    return np.clip(levelled(sound, dbfs=-6.0) * 2, -PEAK, PEAK)


def offset(sound: Sound) -> Sound:
    """With a constant of 5 % of full scale in it."""
    return np.clip(sound + 0.05, -PEAK, PEAK)


def humming(sound: Sound) -> Sound:
    """With mains hum 6 dB below the usual level of speech."""
    turns = 2 * np.pi * 50.0 * np.arange(len(sound)) / SAMPLE_RATE
    return np.clip(sound + 10 ** (-30 / 20) * (np.sin(turns) + np.sin(2 * turns)), -PEAK, PEAK)


MICROPHONES: Mapping[str, Treatment] = {
    "telephone": telephone, "boomy": boomy, "tinny": tinny, "soft": soft, "clipped": clipped,
    "offset": offset, "humming": humming,
}  # fmt: skip


def evened(spoken: Sound, usual: Sequence[Sound]) -> Treatment:
    """What evens out a microphone.

    Args:
        spoken: the calibration sentence through it.
        usual: sentences of many voices through a good one.
    """
    wanted = np.mean([_spectrum_db(sound) for sound in usual], axis=0)
    missing = wanted - _spectrum_db(spoken)
    gains = np.clip(missing, -MOST_DB, MOST_DB)

    def even(sound: Sound) -> Sound:
        return _bent(sound, dict(zip(_CENTRES, gains, strict=True)))

    return even


_CENTRES = 125.0 * 2 ** np.arange(0, 5.8, _OCTAVE)


def _spectrum_db(sound: Sound) -> Sound:
    """Its mean powers in thirds of an octave, around their own mean."""
    power = np.abs(np.fft.rfft(sound)) ** 2
    at = np.fft.rfftfreq(len(sound), 1 / SAMPLE_RATE)
    edges = 2 ** (_OCTAVE / 2)
    bands = [power[(at >= c / edges) & (at < c * edges)].mean() for c in _CENTRES]
    levels = 10 * np.log10(np.maximum(bands, 1e-12))
    return np.asarray(levels - levels.mean())


def _bent(sound: Sound, gains_db: Mapping[float, float]) -> Sound:
    """With a gain at each frequency, lines between them over octaves; as loud as before."""
    at = np.log2(np.maximum(np.fft.rfftfreq(len(sound), 1 / SAMPLE_RATE), 20.0))
    gain_db = np.interp(at, np.log2(list(gains_db)), list(gains_db.values()))
    return as_loud(filtered(sound, 10 ** (gain_db / 20)), sound)
