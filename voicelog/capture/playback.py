"""Playing a little sound back, to hear what the microphone heard."""

from __future__ import annotations

from typing import Any

from voicelog.capture.devices import choose_output, portaudio
from voicelog.capture.library import Library
from voicelog.domain.sound import SAMPLE_RATE
from voicelog.errors import MicrophoneFault
from voicelog.tongue import worded


def play_back(pcm: bytes, wanted: str | None = None, library: Library | None = None) -> None:
    """Play through a speaker at the speaker's own rate; returns when it is over.

    Args:
        pcm: 16 kHz mono signed 16-bit little-endian samples.
        wanted: number of a speaker, or a part of its name; None means the system's.
        library: PortAudio, or what stands in for it.

    Raises:
        MicrophoneFault: there is no speaker, or it cannot be opened.
    """
    library = library or portaudio()
    device = choose_output(wanted, library)
    channels = min(2, device.channels)
    try:
        with library.OutputStream(
            device=device.index, channels=channels, samplerate=device.rate_hz, dtype="float32"
        ) as stream:
            stream.write(_frames(pcm, device.rate_hz, channels))
    except (library.PortAudioError, ValueError, OSError) as error:
        raise MicrophoneFault(
            worded(
                "The speaker {name} cannot be opened ({error})",
                name=repr(device.name),
                error=error,
            ),
            worded("Check that no other program holds it, or choose another"),
        ) from error


def _frames(pcm: bytes, rate_hz: int, channels: int) -> Any:
    import numpy as np
    import soxr

    samples = np.frombuffer(pcm, "<i2").astype(np.float32) / np.float32(32768)
    if rate_hz != SAMPLE_RATE:
        samples = soxr.resample(samples, SAMPLE_RATE, rate_hz, quality="HQ")
    return np.ascontiguousarray(np.repeat(samples[:, None], channels, axis=1))
