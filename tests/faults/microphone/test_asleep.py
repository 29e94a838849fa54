"""A machine that slept has heard nothing meanwhile, though its clock may know nothing of it."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import numpy as np

from voicelog.capture.asleep import asleep_s
from voicelog.capture.incoming import Dropped, Gone, Sound

HALF = [0.5] * 512
Drain = Callable[..., list[Any]]


def test_the_time_asleep_is_told_as_lost_before_the_next_sound(hand: Any, drain: Drain) -> None:
    """Once; what lay in the queue is not counted as lost."""
    slept = [1000.0]
    microphone = hand.microphone(asleep=lambda: slept[0])
    hand.give(HALF)
    assert [type(one) for one in drain(microphone)] == [Sound]
    slept[0] += 300.0
    hand.give(HALF)
    dropped, sound = drain(microphone)
    assert dropped == Dropped(300.0, "the machine was asleep")
    assert isinstance(sound, Sound)
    hand.give(HALF)
    assert [type(one) for one in drain(microphone)] == [Sound]


def test_clocks_read_one_after_the_other_are_no_sleep(hand: Any, drain: Drain) -> None:
    """A few milliseconds of difference come from the reading."""
    slept = iter(np.arange(0.0, 0.5, 0.01))
    microphone = hand.microphone(asleep=lambda: float(next(slept)))
    hand.give(HALF)
    assert [type(one) for one in drain(microphone)] == [Sound]


def test_this_machine_has_not_slept_meanwhile() -> None:
    """Whatever the system, the answer stands still while it is awake."""
    first = asleep_s()
    assert abs(asleep_s() - first) < 0.5


def test_samples_that_are_no_numbers_are_silence(hand: Any, drain: Drain) -> None:
    """A driver that gives nothing but NaN is told like a muted microphone."""
    microphone = hand.microphone()
    for _ in range(200):
        hand.give(np.full(512, np.nan, np.float32))
    came = drain(microphone)
    assert [type(one) for one in came].count(Gone) == 1
    assert all(not any(one.pcm) for one in came if isinstance(one, Sound))
