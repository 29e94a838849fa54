"""A device that goes is told, looked for, and taken again, without losing what it gave before."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from typing import Any

import pytest

from voicelog.capture.incoming import Back, Ended, Gone, Sound

HALF = [0.5] * 512
Drain = Callable[..., list[Any]]


def _pass(hand: Any, microphone: Any, seconds: float, drain: Drain) -> list[Any]:
    """Let time go by with a reader that reads ten times a second."""
    came: list[Any] = []
    for _ in range(round(seconds * 10)):
        hand.now_s += 0.1
        came += drain(microphone)
    return came


def test_pulled_plug_and_put_back(hand: Any, drain: Drain) -> None:
    """What lay in the queue comes first, then Gone once; Back with the first sound, and how long."""
    microphone = hand.microphone()
    hand.give(HALF)
    hand.give(HALF)
    hand.plugged.clear()
    hand.streams[-1].abort()
    first = drain(microphone)
    assert [type(one) for one in first] == [Sound, Sound, Gone]
    assert first[2] == Gone("lapel", "its stream has stopped")
    assert _pass(hand, microphone, 5.0, drain) == []
    hand.plugged["lapel"] = 1
    assert _pass(hand, microphone, 1.2, drain) == []
    assert len(hand.streams) == 2
    hand.give(HALF)
    back, sound = drain(microphone)
    assert back == Back("lapel", pytest.approx(6.2, abs=0.1))
    assert len(sound.pcm) == 1024


def test_device_that_falls_silent_without_a_word_is_noticed(hand: Any, drain: Drain) -> None:
    """No callback for two seconds, the stream still calling itself active."""
    microphone = hand.microphone()
    hand.give(HALF)
    assert [type(one) for one in _pass(hand, microphone, 1.9, drain)] == [Sound]
    gone = _pass(hand, microphone, 0.3, drain)
    assert gone == [Gone("lapel", "it has given nothing for 2 s")]


def test_the_time_without_sound_is_counted_from_the_last_sound(hand: Any, drain: Drain) -> None:
    """Not from when it was noticed, two seconds later."""
    microphone = hand.microphone()
    hand.give(HALF)
    came = _pass(hand, microphone, 4.0, drain)
    assert [type(one) for one in came] == [Sound, Gone]
    hand.give(HALF)
    assert drain(microphone)[0] == Back("lapel", pytest.approx(4.0, abs=0.1))


def test_device_that_opens_and_gives_nothing_is_not_back(hand: Any, drain: Drain) -> None:
    """Back waits for sound, Gone is not told again, and the looking goes on."""
    microphone = hand.microphone()
    hand.streams[-1].abort()
    drain(microphone)
    assert _pass(hand, microphone, 10.0, drain) == []
    assert len(hand.streams) >= 4
    hand.give(HALF)
    assert [type(one) for one in drain(microphone)] == [Back, Sound]


def test_looked_for_once_a_second(hand: Any, drain: Drain) -> None:
    """PortAudio is started anew for each look, and never more often."""
    microphone = hand.microphone(look_every_s=1.0)
    hand.plugged.clear()
    hand.streams[-1].abort()
    _pass(hand, microphone, 10.0, drain)
    assert 9 <= hand.renewed <= 11


def test_other_socket_is_the_same_microphone(drain: Drain, hand: Any) -> None:
    """The number in its name is where it is plugged in."""
    hand.plugged = {"USB mic (hw:1,0)": 1}
    hand._initialize()
    microphone = hand.microphone()
    hand.plugged = {"Built-in (hw:0,0)": 2, "USB mic (hw:2,0)": 1}
    hand.streams[-1].abort()
    _pass(hand, microphone, 1.5, drain)
    assert microphone.device == "USB mic (hw:2,0)"


def test_another_microphone_only_after_a_while(hand: Any, drain: Drain) -> None:
    """A pulled plug is not answered by a microphone across the shop at once, but it is at last."""
    microphone = hand.microphone()
    hand.plugged = {"desk": 1}
    hand.streams[-1].abort()
    _pass(hand, microphone, 9.0, drain)
    assert len(hand.streams) == 1
    _pass(hand, microphone, 3.0, drain)
    hand.give(HALF)
    assert drain(microphone)[0] == Back("desk", pytest.approx(12.0, abs=0.2))


def test_microphone_asked_for_by_name_is_never_replaced(hand: Any, drain: Drain) -> None:
    """Who named a device does not get another."""
    microphone = hand.microphone("lapel")
    hand.plugged = {"desk": 1}
    hand.streams[-1].abort()
    _pass(hand, microphone, 30.0, drain)
    assert len(hand.streams) == 1
    assert microphone.device == "lapel"


def test_nothing_is_started_anew_while_others_play(hand: Any, drain: Drain) -> None:
    """Who plays may say no; then it is asked again at the next look."""
    talking = True
    entered = []

    @contextmanager
    def alone() -> Iterator[bool]:
        entered.append(True)
        yield not talking
        entered.pop()

    microphone = hand.microphone(alone=alone)
    hand.streams[-1].abort()
    _pass(hand, microphone, 5.0, drain)
    assert hand.renewed == 0
    talking = False
    _pass(hand, microphone, 1.5, drain)
    assert hand.renewed == 1
    assert entered == []


def test_closing_while_gone_ends_it(hand: Any, drain: Drain) -> None:
    """Nothing is looked for any more, twice closed is closed."""
    microphone = hand.microphone()
    hand.streams[-1].abort()
    drain(microphone)
    looked = hand.renewed
    microphone.close()
    microphone.close()
    assert microphone.read(0.0) == Ended()
    hand.now_s += 100
    assert microphone.read(0.0) == Ended()
    assert hand.renewed == looked


def test_muted_microphone_is_told_once_and_its_zeros_go_on(hand: Any, drain: Drain) -> None:
    """Five seconds of nothing but zeros: Gone; with the first sound Back; all zeros are given."""
    microphone = hand.microphone()
    for _ in range(200):
        hand.give([0.0] * 512)
    came = drain(microphone)
    gone = [one for one in came if isinstance(one, Gone)]
    assert len(gone) == 1
    assert "muted" in gone[0].why
    assert 156 <= came.index(gone[0]) <= 158
    assert len(came) == 201
    hand.give(HALF)
    assert drain(microphone)[0] == Back("lapel", pytest.approx(6.4))


def test_headset_that_gates_its_noise_is_told_less_and_less(hand: Any, drain: Drain) -> None:
    """Zeros between words: each time sound comes back, twice as long is waited."""
    microphone = hand.microphone()
    told = []
    for _ in range(6):
        for _ in range(200):
            hand.give([0.0] * 512)
        hand.give(HALF)
        told.append(sum(isinstance(one, Gone) for one in drain(microphone)))
    assert told == [1, 0, 0, 0, 0, 0]
