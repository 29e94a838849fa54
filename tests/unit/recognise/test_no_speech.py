"""Which texts are the model's own answers to noise."""

from __future__ import annotations

import math

import numpy as np
import pytest

from voicelog.recognise.no_speech import SHORTEST, holds_nothing, is_answer_to_noise


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


def test_silence_and_clicks_hold_nothing() -> None:
    """One step of 16-bit sound is silence, a click too short; a whisper at -60 dB is neither."""
    assert holds_nothing(np.zeros(0, np.float32))
    assert holds_nothing(np.full(SHORTEST, 1 / 32768, np.float32))
    assert holds_nothing(np.full(SHORTEST - 1, 0.5, np.float32))
    assert not holds_nothing(np.full(SHORTEST, 0.001, np.float32))
