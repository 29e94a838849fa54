"""Any sample rate and number of channels to 16 kHz mono 16-bit, block by block."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from voicelog.domain.sound import SAMPLE_RATE

if TYPE_CHECKING:
    from numpy import float32
    from numpy.typing import NDArray

    Floats = NDArray[float32]

QUALITY = "HQ"


class Converter:
    """Turns blocks of one recording into PCM; remembers how many samples were no numbers.

    Args:
        rate_hz: sample rate of the recording.
    """

    def __init__(self, rate_hz: int) -> None:
        self._resampler = _resampler(rate_hz) if rate_hz != SAMPLE_RATE else None
        self.bad_samples = 0

    def convert(self, frames: Floats) -> bytes:
        """The next block.

        Args:
            frames: -1 to 1, shape (frames, channels); what lies outside is clipped.
        """
        return self._out(self._mono(frames), last=False)

    def flush(self) -> bytes:
        """What the resampler still holds."""
        import numpy as np

        return self._out(np.zeros(0, np.float32), last=True)

    def _mono(self, frames: Floats) -> Floats:
        import numpy as np

        good = np.isfinite(frames)
        if not good.all():
            self.bad_samples += int(np.count_nonzero(~good))
            frames = np.where(good, frames, np.float32(0))
        mixed: Floats = frames.clip(-1.0, 1.0).mean(axis=1, dtype=np.float32)
        return mixed

    def _out(self, samples: Floats, *, last: bool) -> bytes:
        import numpy as np

        if self._resampler is not None:
            samples = self._resampler.resample_chunk(samples, last=last)
        scaled = np.rint(samples * np.float32(32768)).clip(-32768, 32767)
        pcm: bytes = scaled.astype("<i2").tobytes()
        return pcm


def _resampler(rate_hz: int) -> Any:
    import soxr

    return soxr.ResampleStream(rate_hz, SAMPLE_RATE, 1, dtype="float32", quality=QUALITY)
