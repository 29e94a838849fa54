"""What all voices have in common: even loudness, no silence around, a short memory."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest

from voicelog.announce.voice import KEPT_S, PEAK, REMEMBERED, NoVoice, Remembering, Spoken, even

RATE_HZ = 8_000


def test_silence_around_is_cut_but_for_a_breath() -> None:
    """A third of a second of silence before a word is a third of a second of waiting."""
    word = np.full(800, 0.3, np.float32)
    silence = np.zeros(4_000, np.float32)
    spoken = even(np.concatenate([silence, word, silence]), RATE_HZ)
    assert spoken.length_s == pytest.approx(0.1 + 2 * KEPT_S, abs=0.001)


@pytest.mark.parametrize("loudness", [0.05, 0.3, 1.0])
def test_every_voice_is_as_loud_as_the_others(loudness: float) -> None:
    """At the same peak, which does not clip."""
    spoken = even(np.sin(np.arange(2_000)) * loudness, RATE_HZ)
    assert np.abs(spoken.samples).max() == pytest.approx(PEAK)
    assert spoken.samples.dtype == np.float32


@pytest.mark.parametrize("samples", [[], [0.0] * 500, [0.001] * 500, [float("nan")] * 500])
def test_silence_is_nothing_said(samples: list[float]) -> None:
    """Not even when it is full of what is no number."""
    assert even(samples, RATE_HZ).length_s == 0.0


def test_no_voice_says_nothing() -> None:
    """Whatever it is asked for."""
    assert len(NoVoice("no voice here").speak("left rear rail").samples) == 0


def test_the_same_sentence_is_made_once(talker: Any) -> None:
    """Say again costs nothing."""
    voice = Remembering(talker)
    assert voice.speak("hole") is voice.speak("hole")
    assert talker.said == ["hole"]
    assert voice.name == talker.name


def test_the_sentence_asked_for_longest_ago_is_forgotten(talker: Any) -> None:
    """Asking again keeps it; the memory stays small."""
    voice = Remembering(talker)
    voice.speak("often")
    for number in range(3 * REMEMBERED):
        voice.speak(f"once {number}")
        voice.speak("often")
    assert talker.said.count("often") == 1
    voice.speak("once 0")
    assert talker.said.count("once 0") == 2


def test_very_long_sentences_are_not_kept() -> None:
    """They would be the only large thing in memory."""

    class Slow:
        """Half a minute for everything."""

        name, asked = "slow", 0

        def speak(self, text: str) -> Spoken:
            """Half a minute."""
            self.asked += 1
            return Spoken(np.ones(30 * RATE_HZ, np.float32), RATE_HZ)

    slow = Slow()
    voice = Remembering(slow)
    voice.speak("long")
    voice.speak("long")
    assert slow.asked == 2


def test_a_failing_voice_is_asked_again(talker: Any) -> None:
    """A fault is nothing to remember."""
    voice = Remembering(talker)
    talker.fault = OSError("gone")
    with pytest.raises(OSError, match="gone"):
        voice.speak("hole")
    talker.fault = None
    assert voice.speak("hole").length_s == 0.5
