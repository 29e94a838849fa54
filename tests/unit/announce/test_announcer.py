"""Tones at once, words after them, and silence when asked for."""

from __future__ import annotations

import math
import threading
import time
from collections.abc import Callable, Iterator
from typing import Any

import numpy as np
import pytest

from voicelog.announce import announcer as announcing
from voicelog.announce.announcer import (
    AFTER_TONE_S,
    AFTER_WORDS_S,
    FIRST_WORDS,
    KEPT,
    Announcer,
    open_announcer,
)
from voicelog.announce.player import Player
from voicelog.announce.tones import render
from voicelog.announce.voice import NoVoice, Spoken
from voicelog.domain.signal import Signal
from voicelog.errors import UsageFault, VoiceFault

RATE_HZ = 8_000


class Gate:
    """A voice that speaks when it is let: the worker's speed in the test's hands."""

    name = "gate"

    def __init__(self) -> None:
        self.asked: list[str] = []
        self.open = threading.Event()

    def speak(self, text: str) -> Spoken:
        """Wait, then half a second of a constant."""
        if text != FIRST_WORDS:
            self.asked.append(text)
            assert self.open.wait(5.0)
        return Spoken(np.full(RATE_HZ // 2, 0.25, np.float32), RATE_HZ)


def until(holds: Callable[[], bool]) -> None:
    """Wait for another thread."""
    for _ in range(1_000):
        if holds():
            return
        time.sleep(0.002)
    raise AssertionError("it never came")


@pytest.fixture
def player(library: Any, clock: Any) -> Player:
    """On a device that plays when it is pumped."""
    return Player(library=library, clock=clock)


@pytest.fixture
def gate() -> Gate:
    """Shut."""
    return Gate()


@pytest.fixture
def announcer(player: Player, gate: Gate) -> Iterator[Announcer]:
    """With a voice that waits to be let."""
    announcer = Announcer(player, gate)
    yield announcer
    gate.open.set()
    announcer.close()


def test_the_tone_goes_out_while_the_words_are_still_made(
    announcer: Announcer, library: Any, gate: Gate, clock: Any
) -> None:
    """The caller does not wait for the voice, nor does the tone."""
    told_s = announcer.say("left rear rail, hole", signal=Signal.FINDING)
    assert told_s == pytest.approx(clock() + library.stream.latency)
    tone = render(Signal.FINDING, RATE_HZ)
    assert np.allclose(library.stream.pump(len(tone)), tone)
    until(lambda: gate.asked == ["left rear rail, hole"])


def test_the_words_follow_the_tone_after_a_pause(
    announcer: Announcer, library: Any, gate: Gate
) -> None:
    """The rhythm ends before somebody speaks."""
    gate.open.set()
    announcer.say("hole", signal=Signal.REMARK)
    until(lambda: announcer._player.playing_words)
    out = library.stream.pump(RATE_HZ)
    tone = len(render(Signal.REMARK, RATE_HZ))
    pause = round(AFTER_TONE_S * RATE_HZ)
    assert not out[tone : tone + pause].any()
    assert out[tone + pause + 100] == pytest.approx(0.25)


def test_talking_is_true_from_asking_until_the_last_word_is_out(
    announcer: Announcer, library: Any, gate: Gate, clock: Any
) -> None:
    """Without a gap between queue, making and playing, in which the ear would open."""
    announcer.say("hole")
    assert announcer.talking
    until(lambda: gate.asked == ["hole"])
    assert announcer.talking
    gate.open.set()
    until(lambda: announcer._player.playing_words)
    library.stream.pump(round((0.5 + AFTER_WORDS_S) * RATE_HZ))
    until(lambda: announcer._busy is None)
    assert announcer.talking
    clock.now_s += library.stream.latency + 0.001
    assert not announcer.talking


def test_a_tone_alone_is_speaking_but_not_talking(announcer: Announcer) -> None:
    """The ear stays open."""
    announcer.signal(Signal.UNSAFE)
    assert announcer.speaking
    assert not announcer.talking


def test_sentences_come_in_order(player: Player, library: Any, talker: Any) -> None:
    """And one after the other."""
    announcer = Announcer(player, talker)
    for text in ("one", "two", "three"):
        announcer.say(text)
    until(lambda: talker.said == [FIRST_WORDS, "one", "two", "three"])
    announcer.close()


def test_an_urgent_one_goes_before_all_others(
    announcer: Announcer, library: Any, gate: Gate
) -> None:
    """What is waiting is dropped, what is being made is not played, what is playing fades."""
    for text in ("one", "two", "three"):
        announcer.say(text)
    until(lambda: gate.asked == ["one"])
    announcer.say("no microphone", signal=Signal.MICROPHONE_LOST, urgent=True)
    gate.open.set()
    until(lambda: gate.asked == ["one", "no microphone"])
    until(lambda: announcer._player.playing_words)
    frames = announcer._player._mixer.left(words_only=True)
    tone = len(render(Signal.MICROPHONE_LOST, RATE_HZ)) + round(AFTER_TONE_S * RATE_HZ)
    assert frames / RATE_HZ == pytest.approx(tone / RATE_HZ + 0.5 + AFTER_WORDS_S)


def test_urgent_words_do_not_cut_the_tone_before_them(
    announcer: Announcer, library: Any, gate: Gate
) -> None:
    """Whoever plays a tone, and then says what it is about, has both heard."""
    gate.open.set()
    announcer.say("a long read-back")
    until(lambda: announcer._player.playing_words)
    library.stream.pump(200)
    announcer.signal(Signal.UNSAFE)
    announcer.say("right rear rail, crack, unsafe", urgent=True)
    tone = render(Signal.UNSAFE, RATE_HZ)
    out = library.stream.pump(len(tone))
    assert np.allclose(out[100:], tone[100:], atol=1e-6)


def test_hush_is_silence_and_forgetting(announcer: Announcer, library: Any, gate: Gate) -> None:
    """Barge-in: nothing that was asked for before is heard after it, not even what was being made."""
    announcer.say("one")
    announcer.say("two")
    until(lambda: gate.asked == ["one"])
    announcer.signal(Signal.FINDING)
    library.stream.pump(100)
    announcer.hush()
    gate.open.set()
    until(lambda: not announcer.talking)
    assert gate.asked == ["one"]
    out = library.stream.pump(RATE_HZ)
    assert not out[round(0.01 * RATE_HZ) :].any()


def test_hush_does_not_keep_the_next_words(announcer: Announcer, gate: Gate) -> None:
    """Only what was before it."""
    announcer.say("one")
    announcer.hush()
    announcer.say("two")
    gate.open.set()
    until(lambda: "two" in gate.asked)
    until(lambda: announcer._player.playing_words)


def test_a_failing_voice_is_told_once_and_the_tones_go_on(
    player: Player, library: Any, talker: Any
) -> None:
    """The thread lives: when the voice is back, so are the words."""
    faults: list[str] = []
    talker.fault = VoiceFault("The voice broke", "Mend it")
    announcer = Announcer(player, talker, on_fault=faults.append)
    announcer.say("one", signal=Signal.FINDING)
    announcer.say("two")
    until(lambda: len(talker.said) == 3 and not announcer.talking)
    assert faults == ["Nothing can be said aloud: The voice broke. Mend it"]
    assert library.stream.pump(80).any()
    talker.fault = None
    announcer.say("three")
    until(lambda: announcer._player.playing_words)
    announcer.close()


def test_long_texts_are_begun_before_they_are_all_made(announcer: Announcer, gate: Gate) -> None:
    """Piece by piece."""
    announcer.say("left rear rail, hole, " * 20)
    until(lambda: len(gate.asked) == 1)
    assert len(gate.asked[0]) <= 160


@pytest.mark.parametrize("text", ["", "...", "\x00"])
def test_nothing_to_say_is_only_a_tone(announcer: Announcer, text: str, gate: Gate) -> None:
    """And never makes the ear deaf."""
    announcer.say(text, signal=Signal.REMARK)
    assert announcer.speaking
    assert not announcer.talking


def test_waiting_ends_with_the_last_word_or_with_patience(library: Any, talker: Any) -> None:
    """True when everything was said."""
    announcer = Announcer(Player(library=library, clock=time.monotonic), talker)
    announcer.say("half a second")
    assert not announcer.wait(0.05)
    until(lambda: announcer._busy is None and announcer._player.playing_words)
    library.stream.pump(RATE_HZ)
    assert announcer.wait(5.0)
    assert not announcer.speaking
    announcer.close()


def test_closing_ends_the_thread_and_lets_the_speaker_go(
    player: Player, library: Any, talker: Any
) -> None:
    """Whatever is waiting; twice does no harm."""
    announcer = Announcer(player, talker)
    announcer.say("one")
    announcer.close()
    announcer.close()
    assert not announcer._thread.is_alive()
    assert library.stream.closed


def test_without_a_speaker_there_is_nothing_to_be_deaf_for(
    library: Any, monkeypatch: pytest.MonkeyPatch, talker: Any
) -> None:
    """Words that nobody hears are not said; the reason is told with the first tone."""
    library.devices = []
    faults: list[str] = []
    monkeypatch.setattr(announcing, "open_voice", lambda _name: talker)
    announcer = open_announcer(library=library, on_fault=faults.append)
    announcer.say("hole", signal=Signal.FINDING)
    assert not announcer.talking
    assert not announcer.audible
    assert faults == [announcer.why]
    assert announcer.why.startswith("There is no speaker")
    announcer.close()
    assert talker.said == []


def test_a_speaker_found_later_speaks(
    library: Any, clock: Any, monkeypatch: pytest.MonkeyPatch, talker: Any
) -> None:
    """The voice that was chosen, once somebody has looked again."""
    there, library.devices = library.devices, []
    monkeypatch.setattr(announcing, "open_voice", lambda _name: talker)
    announcer = open_announcer(library=library)
    announcer.say("nobody hears it")
    library.devices = there
    monkeypatch.setattr(announcer._player, "_clock", lambda: time.monotonic() + 60.0)
    assert announcer.look_again()
    announcer.say("hole")
    until(lambda: talker.said == ["hole"])
    announcer.close()


def test_a_speaker_lost_while_words_are_waiting_leaves_nothing_to_be_deaf_for(
    announcer: Announcer, library: Any, gate: Gate, clock: Any
) -> None:
    """They are not made any more, and what was made passes in its time."""
    for text in ("one", "two", "three"):
        announcer.say(text)
    until(lambda: gate.asked == ["one"])
    library.stream.unplug()
    gate.open.set()
    until(lambda: announcer._busy is None and not announcer._waiting)
    clock.now_s += 2.0
    assert not announcer.talking
    assert gate.asked == ["one"]


def test_an_announcer_of_this_machine_takes_the_names_of_the_settings(library: Any) -> None:
    """Voice and speaker as a person names them."""
    announcer = open_announcer("none", "head", library=library)
    assert (announcer.audible, announcer.why) == (True, "")
    assert isinstance(announcer._voice, NoVoice)
    announcer.close()
    with pytest.raises(UsageFault):
        open_announcer("loud", library=library)


def test_words_hushed_while_they_are_made_are_no_talking(announcer: Announcer, gate: Gate) -> None:
    """The voice may take a second more for what nobody will hear: the ear is open at once."""
    announcer.say("one")
    until(lambda: gate.asked == ["one"])
    announcer.hush()
    assert not announcer.talking
    announcer.say("two")
    assert announcer.talking


def test_words_being_made_are_not_aloud(
    announcer: Announcer, library: Any, gate: Gate, clock: Any
) -> None:
    """Only what is in the air can be heard as an echo."""
    announcer.say("one", signal=Signal.FINDING)
    until(lambda: gate.asked == ["one"])
    assert (announcer.talking, announcer.aloud) == (True, False)
    gate.open.set()
    until(lambda: announcer.aloud)
    library.stream.pump(2 * RATE_HZ)
    clock.now_s += library.stream.latency
    assert not announcer.aloud


def test_the_time_of_the_last_words_is_known(
    announcer: Announcer, library: Any, gate: Gate, clock: Any
) -> None:
    """Never, then now while they are made, then their end, and that long afterwards too."""
    announcer.signal(Signal.FINDING)
    assert announcer.talked_until_s == -math.inf
    announcer.say("one")
    assert announcer.talked_until_s == clock()
    gate.open.set()
    until(lambda: announcer._busy is None and announcer.aloud)
    ends_s = announcer.talked_until_s
    assert ends_s >= clock() + 0.5 + AFTER_WORDS_S
    library.stream.pump(2 * RATE_HZ)
    clock.now_s += 60.0
    assert announcer.talked_until_s == pytest.approx(ends_s)


def test_a_hush_ends_the_words_at_once(
    announcer: Announcer, library: Any, gate: Gate, clock: Any
) -> None:
    """What was dropped is not counted."""
    gate.open.set()
    announcer.say("one")
    until(lambda: announcer._busy is None and announcer.aloud)
    library.stream.pump(800)
    announcer.hush()
    assert announcer.talked_until_s == pytest.approx(clock() + library.stream.latency)


def test_what_has_to_be_heard_is_heard_in_a_burst(announcer: Announcer, library: Any) -> None:
    """Unsafe, no microphone, a question, a refusal: acknowledgements give way to them."""
    assert {Signal.UNSAFE, Signal.MICROPHONE_LOST, Signal.QUESTION, Signal.REFUSED} == KEPT
    for signal in (Signal.FINDING, Signal.UNSAFE, *[Signal.FINDING] * 20):
        announcer.signal(signal)
    out = library.stream.pump(20 * RATE_HZ)
    assert np.abs(out).max() == pytest.approx(np.abs(render(Signal.UNSAFE, RATE_HZ)).max())
