"""What frequencies a recording is made of: too low for words, those of words, and above a telephone's."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from voicelog.capture.level import power_dbfs
from voicelog.domain.sound import SAMPLE_RATE

if TYPE_CHECKING:
    from numpy import float64
    from numpy.typing import NDArray

    Floats = NDArray[float64]

LOW_HZ = (20.0, 130.0)
"""Mains hum with its first harmonic (50, 60, 100, 120 Hz) and slow motors; hardly any of a voice."""

WORDS_HZ = (300.0, 3500.0)
"""What a telephone carries."""

HIGH_HZ = (4500.0, 7500.0)
"""Hissing sounds; nothing that was sampled 8000 times a second reaches up here."""

_FRAME = SAMPLE_RATE // 10
_SOFTEST, _LOUDEST = 0.1, 0.7
_FULL_SCALE = 32768.0


@dataclass(frozen=True, slots=True)
class Bands:
    """A recording of somebody who speaks with pauses; powers as levels in dBFS.

    Args:
        words_dbfs: of :data:`WORDS_HZ`, in its louder moments.
        high_dbfs: of :data:`HIGH_HZ`, in the same moments.
        hum_dbfs: of :data:`LOW_HZ`, in its softest moments.
        rest_dbfs: of everything above that, in the same moments.
        offset: mean of all samples, a share of full scale.
    """

    words_dbfs: float
    high_dbfs: float
    hum_dbfs: float
    rest_dbfs: float
    offset: float

    @classmethod
    def of(cls, pcm: bytes) -> Bands | None:
        """Measure it in tenths of a second; None for less than one of them.

        Args:
            pcm: 16 kHz mono signed 16-bit little-endian samples.
        """
        import numpy as np

        samples = np.frombuffer(pcm[: len(pcm) // 2 * 2], "<i2").astype(np.float64) / _FULL_SCALE
        if len(samples) < _FRAME:
            return None
        offset = float(samples.mean())
        powers = _powers(samples - offset)
        level = powers.sum(axis=1)
        loud = powers[level >= np.quantile(level, _LOUDEST)].mean(axis=0)
        soft = powers[level <= np.quantile(level, _SOFTEST)].mean(axis=0)
        above = (LOW_HZ[1], SAMPLE_RATE / 2)
        return cls(
            _level(loud, WORDS_HZ), _level(loud, HIGH_HZ), _level(soft, LOW_HZ), _level(soft, above),
            offset,
        )  # fmt: skip


def _powers(samples: Floats) -> Floats:
    """Mean squares of tenths of a second by frequency, 10 Hz apart; shape (tenths, frequencies)."""
    import numpy as np

    frames = samples[: len(samples) // _FRAME * _FRAME].reshape(-1, _FRAME)
    window = np.hanning(_FRAME)
    spectra = np.abs(np.fft.rfft(frames * window, axis=1)) ** 2
    return np.asarray(2 * spectra / (_FRAME * np.sum(window**2)))


def _level(power: Floats, band_hz: tuple[float, float]) -> float:
    first, last = (round(hertz * _FRAME / SAMPLE_RATE) for hertz in band_hz)
    return power_dbfs(float(power[first:last].sum()))
