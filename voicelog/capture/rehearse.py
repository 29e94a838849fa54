"""Recordings played in place of a microphone, at the pace of real time."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from pathlib import Path
from typing import TYPE_CHECKING, Any

from voicelog.capture.microphone import Microphone
from voicelog.capture.pretend import NAME, PretendLibrary
from voicelog.capture.source import read_audio
from voicelog.domain.sound import SAMPLE_RATE

if TYPE_CHECKING:
    from numpy import float32
    from numpy.typing import NDArray

    Floats = NDArray[float32]

ROOM_DBFS = -72.0
"""Noise in the pauses: digital silence would be taken for a muted microphone."""

SEED = 1909

AHEAD_S = 5.0
"""At endless speed, sound that may wait for its reader."""


def played(
    paths: Iterable[Path], *, pause_s: float = 1.0, rate_hz: int = SAMPLE_RATE, channels: int = 1
) -> Iterator[Floats]:
    """The sound of recordings, one after another, with a quiet room before, between and after.

    Args:
        paths: recordings of any kind that :func:`~voicelog.capture.source.read_audio` reads.
        pause_s: length of the quiet.
        rate_hz: sample rate given; at 16 kHz every sample is the very one of the recording.
        channels: all alike.

    Yields:
        Blocks between -1 and 1, shape (frames, channels).

    Raises:
        InputFault: a recording cannot be read to its end; all that could be read came before.
    """
    import numpy as np

    rng = np.random.default_rng(SEED)
    yield _room(rng, pause_s, rate_hz, channels)
    for path in paths:
        yield from _recording(path, rate_hz, channels)
        yield _room(rng, pause_s, rate_hz, channels)


def rehearsal(
    paths: Iterable[Path],
    *,
    pause_s: float = 1.0,
    speed: float = 1.0,
    rate_hz: int = SAMPLE_RATE,
    channels: int = 1,
    name: str = NAME,
) -> tuple[Microphone, PretendLibrary]:
    """A microphone that hears these recordings and then ends, and what its sound comes from.

    Args:
        paths: recordings.
        pause_s: quiet before, between and after them.
        speed: how much faster than life; ``math.inf`` is as fast as it is read, and loses nothing.
        rate_hz: the rate that the device pretends to have.
        channels: its channels.
        name: what it is called.
    """
    sound = played(paths, pause_s=pause_s, rate_hz=rate_hz, channels=channels)
    library = PretendLibrary(sound, name=name, rate_hz=rate_hz, channels=channels, speed=speed)
    return microphone_of(library), library


def microphone_of(library: PretendLibrary, **more: Any) -> Microphone:
    """A microphone on a pretended device, with its time; ``more`` as :class:`Microphone` takes."""
    microphone = Microphone(library=library, clock=library.now, over=library.over, **more)
    if math.isinf(library.speed):
        library.full = lambda: microphone.waiting_s > AHEAD_S
    return microphone


def _recording(path: Path, rate_hz: int, channels: int) -> Iterator[Floats]:
    import numpy as np

    resampler = _resampler(rate_hz) if rate_hz != SAMPLE_RATE else None
    for pcm in read_audio(path):
        samples = np.frombuffer(pcm, "<i2").astype(np.float32) / np.float32(32768)
        if resampler is not None:
            samples = resampler.resample_chunk(samples)
        yield _spread(samples, channels)
    if resampler is not None:
        yield _spread(resampler.resample_chunk(np.zeros(0, np.float32), last=True), channels)


def _room(rng: Any, seconds: float, rate_hz: int, channels: int) -> Floats:
    import numpy as np

    noise = rng.standard_normal(round(seconds * rate_hz)) * 10 ** (ROOM_DBFS / 20)
    return _spread(noise.astype(np.float32), channels)


def _spread(samples: Floats, channels: int) -> Floats:
    import numpy as np

    spread: Floats = np.repeat(samples[:, None], channels, axis=1)
    return spread


def _resampler(rate_hz: int) -> Any:
    import soxr

    return soxr.ResampleStream(SAMPLE_RATE, rate_hz, 1, dtype="float32", quality="HQ")
