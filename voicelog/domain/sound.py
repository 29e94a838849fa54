"""Sound as the program carries it: 16 kHz, one channel, signed 16-bit little-endian PCM."""

from __future__ import annotations

from dataclasses import dataclass

SAMPLE_RATE = 16_000
"""Samples a second, everywhere after capture."""

BYTES_PER_SAMPLE = 2


@dataclass(frozen=True, slots=True)
class Clip:
    """The sound of one utterance, pre-roll included.

    Args:
        pcm: signed 16-bit little-endian mono samples at :data:`SAMPLE_RATE`.
        start_s: where its first sample lies in the source, in seconds.
        speech_end_s: where the last speech was found in the source, in seconds.
        cut: True when the length limit closed it and speech went on into the next clip.
        level_dbfs: root-mean-square level of the clip, in dB below full scale.
        noise_dbfs: the noise floor tracked before it, in dB below full scale.
    """

    pcm: bytes
    start_s: float
    speech_end_s: float
    cut: bool = False
    level_dbfs: float = 0.0
    noise_dbfs: float = -96.0

    @property
    def samples(self) -> int:
        """Number of samples."""
        return len(self.pcm) // BYTES_PER_SAMPLE

    @property
    def duration_s(self) -> float:
        """Length in seconds."""
        return self.samples / SAMPLE_RATE

    @property
    def end_s(self) -> float:
        """Where the sample after the last one lies in the source, in seconds."""
        return self.start_s + self.duration_s
