"""Which texts are the model's own answers to noise."""

from __future__ import annotations

import math

import numpy as np
import pytest

from voicelog.recognise.no_speech import is_answer_to_noise, too_quiet


@pytest.mark.parametrize(
    ("text", "chance", "answer"),
    [
        ("You", 0.5, True),
        ("You.", 0.001, True),
        ("So", 0.001, True),
        ("", 0.001, True),
        ("♪♪", 0.001, True),
        ("2-3ตว 01/01", 0.001, True),
        ("I'll be right back.", 0.2, True),
        ("I'll be right back.", 0.05, False),
        ("You can see the hole from here.", 0.9, False),
        ("Left front rail, hole.", 0.001, False),
        ("Façade", 0.001, False),
        ("Yes", 0.001, False),
    ],
)
def test_answers_to_noise(text: str, chance: float, answer: bool) -> None:
    """By what they say, or by how much the model was tempted to say "you"."""
    assert is_answer_to_noise(text, math.log(chance)) is answer


def test_too_quiet_is_digital_silence_only() -> None:
    """One step of 16-bit sound is silence; a whisper at -60 dB is not."""
    assert too_quiet(np.zeros(0, np.float32))
    assert too_quiet(np.full(1000, 1 / 32768, np.float32))
    assert not too_quiet(np.full(1000, 0.001, np.float32))
