"""Tones and sentences as WAV files, for whoever wants to listen elsewhere."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from voicelog.announce.tones import render
from voicelog.announce.voice import Spoken
from voicelog.domain.signal import Signal
from voicelog.errors import StorageFault
from voicelog.tongue import worded

if TYPE_CHECKING:
    from numpy import float32
    from numpy.typing import NDArray

    Floats = NDArray[float32]

RATE_HZ = 48_000
"""Of the tones' files; a sentence keeps the rate of its voice."""

SAID = "said.wav"
"""The file of a sentence."""


def write_tones(folder: Path) -> tuple[Path, ...]:
    """Every signal's tone, a file each, named after it; the folder is made.

    Raises:
        StorageFault: the disk refuses.
    """
    named = ((signal, folder / f"{signal}.wav") for signal in Signal)
    return tuple(_written(path, render(signal, RATE_HZ), RATE_HZ) for signal, path in named)


def write_spoken(folder: Path, spoken: Spoken) -> Path:
    """A sentence, as :data:`SAID`; the folder is made.

    Raises:
        StorageFault: the disk refuses.
    """
    return _written(folder / SAID, spoken.samples, spoken.rate_hz)


def _written(path: Path, samples: Floats, rate_hz: int) -> Path:
    """Mono 16-bit."""
    import soundfile

    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        soundfile.write(path, samples, rate_hz, subtype="PCM_16", format="WAV")
    except (OSError, soundfile.SoundFileError) as error:
        reason = getattr(error, "strerror", None) or getattr(error, "error_string", str(error))
        raise StorageFault(
            worded(
                "{path} cannot be written ({reason})",
                path=path,
                reason=str(reason).strip().rstrip("."),
            ),
            worded("Name another folder with --write"),
        ) from error
    return path
