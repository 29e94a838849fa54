"""What is the matter with the sound is said aloud: who has both hands in a wheel arch reads no screen."""

from __future__ import annotations

import pytest
from live_bay import SPEAKS, Ears

from voicelog.capture.incoming import Dropped, Odd, Sound
from voicelog.domain.signal import Signal
from voicelog.runtime.messages import Message, Noticed
from voicelog.runtime.sound_in import AGAIN_S, SoundIn


class Aloud:
    """A tool that says nothing by itself, and notes down its alarms."""

    deafening = aloud = False

    def __init__(self) -> None:
        self.alarms: list[tuple[Signal, str]] = []

    def quiet_s(self) -> float:
        """It never spoke."""
        return float("inf")

    def alarm(self, signal: Signal, text: str) -> float:
        """Noted."""
        self.alarms.append((signal, text))
        return 0.0


class Bench:
    """A sound side on a clock that a test moves."""

    def __init__(self) -> None:
        self.now_s, self.answers = 100.0, Aloud()
        self.seen: list[Message] = []
        self.sound = SoundIn(
            Ears(lambda: self.now_s), self.answers, self.seen.append, lambda: self.now_s,  # type: ignore[arg-type]
            hands_free=True,
        )  # fmt: skip

    @property
    def said(self) -> list[str]:
        """Sentences of its alarms."""
        return [text for _, text in self.answers.alarms]

    def noticed(self) -> list[str]:
        """What the screen shows of the machine."""
        return [one.text for one in self.seen if isinstance(one, Noticed)]


@pytest.fixture
def bench() -> Bench:
    """One that listens."""
    return Bench()


def test_a_loss_is_said_with_its_length(bench: Bench) -> None:
    """And what to do about it."""
    bench.sound.take(Dropped(1.5, "busy"))
    told = "1.5 seconds of sound were lost; say again what was said just now"
    assert bench.answers.alarms == [(Signal.MICROPHONE_BACK, told)]
    assert bench.noticed() == ["1.5 s of sound were lost: busy"]


def test_many_losses_are_said_once(bench: Bench) -> None:
    """The screen shows each; ten seconds later it is said again."""
    for _ in range(5):
        bench.sound.take(Dropped(1.0, "busy"))
        bench.now_s += 1.0
    assert (len(bench.said), len(bench.noticed())) == (1, 5)
    bench.now_s += AGAIN_S
    bench.sound.take(Dropped(1.0, "busy"))
    assert len(bench.said) == 2


def test_a_blink_in_silence_is_left_to_the_screen(bench: Bench) -> None:
    """Devices lose a moment when they are opened; while somebody speaks it counts."""
    bench.sound.take(Dropped(0.05, "busy"))
    bench.sound.take(Dropped(0.0, "how much is not known"))
    assert bench.said == []
    bench.sound.take(Sound(SPEAKS, bench.now_s))
    bench.sound.take(Dropped(0.0, "how much is not known"))
    assert bench.said == ["some sound was lost; say again what was said just now"]


def test_a_wrong_rate_is_told_in_figures_and_words(bench: Bench) -> None:
    """What it gives and what it says, and what to do."""
    assert bench.sound.take(Odd("lapel", 16_012.3, 48_000)) == []
    (notice,) = bench.noticed()
    assert "16,012 samples a second where it says 48,000" in notice
    assert bench.answers.alarms[0][0] is Signal.REFUSED
    assert bench.said[0].endswith("Choose another")


def test_an_overdriven_microphone_is_told_after_the_answer(bench: Bench) -> None:
    """What was just said is answered first; the alarm comes with the next look round."""
    for number in range(3):
        bench.sound.take(Sound(SPEAKS, bench.now_s, clipped=True))
        bench.sound.take(Sound(b"left sill", bench.now_s + number, clipped=True))
    assert bench.said == []
    bench.sound.look_round()
    bench.sound.look_round()
    assert [signal for signal, _ in bench.answers.alarms] == [Signal.TOO_LOUD]
    assert "overdriven" in bench.noticed()[-1]
