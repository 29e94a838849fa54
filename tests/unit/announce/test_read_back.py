"""Whether a read-back can be understood: the built-in ear hears what the built-in voice says."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
import pytest
import soxr

from voicelog.announce.built_in_voice import BuiltInVoice
from voicelog.recognise.moonshine_engine import MoonshineEar

SENTENCES = (
    "{} rear rail, hole, thirty five millimetres",
    "{} front spring hanger, surface rust, firm",
    "crack, {} control arm mount",
    "{} sill, soft spot",
)


@pytest.fixture(scope="module")
def understood() -> Callable[[str], str]:
    """What an ear without any vocabulary to lean on makes of a sentence said aloud."""
    voice, ear = BuiltInVoice(), MoonshineEar(bias=0.0)

    def hear(text: str) -> str:
        spoken = voice.speak(text)
        samples = soxr.resample(spoken.samples, spoken.rate_hz, 16_000)
        padded = np.pad(samples, 4_000)
        ear.feed((padded * 32767).astype("<i2").tobytes())
        return ear.finish().hypotheses[0].text.lower()

    return hear


@pytest.mark.parametrize("sentence", SENTENCES)
def test_the_side_is_heard_in_every_read_back(
    understood: Callable[[str], str], sentence: str
) -> None:
    """Left and right are what must never be mixed up, and never are."""
    assert "left" in (left := understood(sentence.format("left")))
    assert "right" in (right := understood(sentence.format("right")))
    assert "right" not in left
    assert "left" not in right
