"""Utterances out of sound: decoded before their end is decided, and timed by the source's clock."""

from __future__ import annotations

import numpy as np
import pytest

from voicelog.capture.endpoint import POST_ROLL_S, Endpointer
from voicelog.capture.incoming import Sound
from voicelog.capture.voice import BLOCK
from voicelog.config.settings import Settings
from voicelog.domain.heard import Heard
from voicelog.domain.sound import SAMPLE_RATE
from voicelog.recognise.port import Expected
from voicelog.runtime.hearing import HELD_S, Hearing, Uttered

LOUD, QUIET = 8000, 1
BLOCK_S = BLOCK / SAMPLE_RATE


class Loud:
    """A detector that takes loud sound for speech."""

    def speech(self, pcm: bytes) -> float:
        """By its first sample."""
        return float(abs(int.from_bytes(pcm[:2], "little", signed=True)) > 100)

    def reset(self) -> None:
        """Nothing to forget."""


class Ear:
    """Hears how much sound it was given, and notes when it was asked."""

    engine, model = "counting", ""

    def __init__(self) -> None:
        self.pcm = bytearray()
        self.finished: list[int] = []
        self.forgot = 0

    def expect(self, expected: Expected) -> None:
        """Whatever it is."""

    def feed(self, pcm: bytes) -> None:
        """More of it."""
        self.pcm += pcm

    def partial(self) -> str:
        """So far."""
        return f"{len(self.pcm)} so far"

    def finish(self) -> Heard:
        """All of it."""
        self.finished.append(len(self.pcm))
        heard = Heard.typed(f"{len(self.pcm)} bytes")
        self.pcm.clear()
        return heard

    def forget(self) -> None:
        """None of it."""
        self.forgot += 1
        self.pcm.clear()

    def close(self) -> None:
        """Nothing to let go."""


def sound(value: int, seconds: float) -> bytes:
    """So much of a constant, whole blocks of it."""
    blocks = round(seconds / BLOCK_S)
    return bytes(np.full(blocks * BLOCK, value, "<i2").tobytes())


class Desk:
    """Hearing with an ear that counts, fed block by block on a clock of its own."""

    def __init__(self) -> None:
        self.now_s, self.ear = 50.0, Ear()
        endpointer = Endpointer(detector=Loud())
        self.hearing = Hearing(
            self.ear, Settings(), endpointer=endpointer, clock=lambda: self.now_s
        )
        self.ended: list[Uttered] = []

    def hear(self, value: int, seconds: float, *, early: bool = True) -> None:
        """Let so much sound come in."""
        pcm = sound(value, seconds)
        for at in range(0, len(pcm), 2 * BLOCK):
            self.now_s += BLOCK_S
            block = Sound(pcm[at : at + 2 * BLOCK], self.now_s)
            self.ended += self.hearing.take(block, early=early)


@pytest.fixture
def desk() -> Desk:
    """Nothing heard yet but a second of quiet."""
    made = Desk()
    made.hear(QUIET, 1.0)
    return made


def test_it_is_decoded_before_its_end_is_decided(desk: Desk) -> None:
    """As soon as its clip can no longer change; once, and with that very clip."""
    desk.hear(LOUD, 1.0)
    desk.hear(QUIET, POST_ROLL_S + 3 * BLOCK_S)
    assert (len(desk.ear.finished), desk.ended) == (1, [])
    assert desk.hearing.reading
    desk.hear(QUIET, 1.0)
    (uttered,) = desk.ended
    assert uttered.heard is not None
    assert uttered.heard.text == f"{len(uttered.clip.pcm)} bytes"
    assert len(desk.ear.finished) == 1


def test_who_goes_on_speaking_is_decoded_again(desk: Desk) -> None:
    """A pause in a sentence costs a guess, never a word."""
    desk.hear(LOUD, 1.0)
    desk.hear(QUIET, POST_ROLL_S + 2 * BLOCK_S)
    desk.hear(LOUD, 1.0)
    desk.hear(QUIET, 1.5)
    (uttered,) = desk.ended
    assert len(desk.ear.finished) == 2
    assert uttered.heard is not None
    assert uttered.heard.text == f"{len(uttered.clip.pcm)} bytes"


def test_while_catching_up_nothing_is_decoded_early(desk: Desk) -> None:
    """The utterance comes out undecoded, to be decoded once, when it is taken."""
    desk.hear(LOUD, 1.0, early=False)
    desk.hear(QUIET, 1.5, early=False)
    (uttered,) = desk.ended
    assert uttered.heard is None
    assert desk.ear.finished == []


def test_times_are_those_of_the_source(desk: Desk) -> None:
    """Also after sound was left out: a pause in which the tool spoke is no sound, but it is time."""
    for _ in range(2):
        began_s = desk.now_s
        desk.hear(LOUD, 1.0)
        spoke_s = desk.now_s
        desk.hear(QUIET, 1.5)
        uttered = desk.ended[-1]
        assert uttered.offset_s + uttered.clip.speech_end_s == pytest.approx(spoke_s, abs=0.001)
        assert -0.35 < uttered.offset_s + uttered.clip.start_s - began_s < 0.05
        assert 0.6 < uttered.ended_s - spoke_s < 0.8
        desk.hearing.cut()
        desk.now_s += 30.0


def test_the_text_so_far_is_shown_and_forgotten(desk: Desk) -> None:
    """What the ear was given for it never gets into the utterance."""
    desk.hear(LOUD, 1.0)
    assert desk.hearing.partial().endswith("so far")
    desk.hear(LOUD, 0.5)
    desk.hear(QUIET, 1.5)
    (uttered,) = desk.ended
    assert desk.ear.forgot == 1
    assert uttered.heard is not None
    assert uttered.heard.text == f"{len(uttered.clip.pcm)} bytes"
    assert desk.hearing.partial() == ""


def test_a_word_begun_with_the_pedal_is_heard_whole(desk: Desk) -> None:
    """The last moment before the pedal goes down is kept, and no more than that."""
    for _ in range(100):
        desk.now_s += BLOCK_S
        desk.hearing.hold(Sound(sound(LOUD, BLOCK_S), desk.now_s))
    desk.hear(LOUD, 0.5)
    (uttered,) = desk.hearing.cut()
    assert uttered.clip.duration_s == pytest.approx(HELD_S + 0.5 + 0.3, abs=0.1)


def test_the_pedal_going_up_ends_it_at_once(desk: Desk) -> None:
    """Without waiting for silence."""
    desk.hear(LOUD, 1.0)
    (uttered,) = desk.hearing.cut()
    assert uttered.clip.duration_s == pytest.approx(1.3, abs=0.1)
    assert not desk.hearing.speaking


def test_another_ear_takes_over_in_the_middle_of_a_word(desk: Desk) -> None:
    """It gets the utterance whole; what the first was given of it is nobody's business any more."""
    desk.hear(LOUD, 1.0)
    assert desk.hearing.partial()
    another = Ear()
    desk.hearing.use(another)
    desk.hear(QUIET, 1.5)
    (uttered,) = desk.ended
    assert another.finished == [len(uttered.clip.pcm)]
    assert (desk.ear.finished, another.forgot) == ([], 0)
