"""Sound that is lost on the way is counted and told, at the place where it is missing."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import numpy as np
import pytest

from voicelog.capture.incoming import Dropped, Sound

HALF = [0.5] * 512
Drain = Callable[..., list[Any]]


def _pcm(*values: int) -> bytes:
    return b"".join(value.to_bytes(2, "little", signed=True) * 512 for value in values)


def test_slow_reader_loses_exactly_what_found_no_room(hand: Any, drain: Drain) -> None:
    """Ten blocks fit, seven do not; what comes after them is told with the very length lost."""
    microphone = hand.microphone(queue_s=10 * 0.032)
    for number in range(17):
        hand.give([number / 32] * 512)
    first = drain(microphone)
    assert [type(one) for one in first] == [Sound] * 10
    hand.give([0.75] * 512)
    dropped, sound = drain(microphone)
    assert dropped == Dropped(pytest.approx(7 * 0.032), "the program was too busy to take it in")
    assert sound.pcm == _pcm(24_576)
    assert first[9].pcm == _pcm(9 * 1024)


def test_callback_keeps_no_more_than_the_queue_holds(hand: Any) -> None:
    """A reader that never comes costs the memory of the queue, not of the hour."""
    microphone = hand.microphone(queue_s=1.0)
    for _ in range(1000):
        hand.give(HALF)
    assert microphone.waiting_s == pytest.approx(31 * 0.032)


def test_device_that_lost_sound_is_believed_by_its_clock(hand: Any, drain: Drain) -> None:
    """The flag says that, the times of the blocks say how much."""
    microphone = hand.microphone()
    hand.give(HALF, adc_s=5.0)
    hand.give(HALF, adc_s=5.032)
    hand.give(HALF, adc_s=5.364, overflow=True)
    kinds = drain(microphone)
    assert [type(one) for one in kinds] == [Sound, Sound, Dropped, Sound]
    assert kinds[2].lost_s == pytest.approx(0.3)


@pytest.mark.parametrize("adc_s", [0.0, 4.0])
def test_loss_without_a_useful_clock_is_told_as_unknown(
    hand: Any, drain: Drain, adc_s: float
) -> None:
    """No time, or one that runs backwards: 0 s, and the sentence says why."""
    microphone = hand.microphone()
    hand.give(HALF, adc_s=5.0)
    hand.give(HALF, adc_s=adc_s, overflow=True)
    dropped = drain(microphone)[1]
    assert dropped.lost_s == 0.0
    assert "how much is not known" in dropped.why


def test_both_kinds_of_loss_are_not_counted_twice(hand: Any, drain: Drain) -> None:
    """Blocks without room lie inside the jump of the device's clock."""
    microphone = hand.microphone(queue_s=0.032)
    hand.give(HALF, adc_s=5.0)
    hand.give(HALF, adc_s=5.032)
    drain(microphone)
    hand.give(HALF, adc_s=5.164, overflow=True)
    lost = [one.lost_s for one in drain(microphone) if isinstance(one, Dropped)]
    assert lost == pytest.approx([0.032, 0.1])


def test_flag_on_a_block_without_room_is_not_forgotten(hand: Any, drain: Drain) -> None:
    """The device lost sound, and then the queue was full for the block that said so."""
    microphone = hand.microphone(queue_s=0.032)
    hand.give(HALF, adc_s=5.0)
    hand.give(HALF, adc_s=5.132, overflow=True)
    drain(microphone)
    hand.give(HALF, adc_s=5.164)
    lost = [one.lost_s for one in drain(microphone) if isinstance(one, Dropped)]
    assert sum(lost) == pytest.approx(0.132)


def test_sound_on_both_sides_of_a_loss_is_not_joined(hand: Any, drain: Drain) -> None:
    """At another rate, the resampler's rest comes out before the loss; nothing is smeared over."""
    hand.rate_hz = 48_000
    microphone = hand.microphone()
    for _ in range(10):
        hand.give([0.5] * 1536, adc_s=1.0)
    hand.give([-0.5] * 1536, overflow=True)
    came = drain(microphone)
    at = next(place for place, one in enumerate(came) if isinstance(one, Dropped))
    before = b"".join(one.pcm for one in came[:at])
    assert len(before) == 10 * 512 * 2
    assert np.frombuffer(before, "<i2")[100:-100].min() > 16_000
    assert all(np.frombuffer(one.pcm, "<i2").max() <= 200 for one in came[at + 1 :])


def test_what_is_lost_at_the_very_end_is_told(hand: Any, drain: Drain) -> None:
    """The queue is full when the device goes: the loss is not forgotten."""
    microphone = hand.microphone(queue_s=0.032)
    hand.give(HALF)
    hand.give(HALF)
    hand.streams[-1].abort()
    kinds = [type(one).__name__ for one in drain(microphone)]
    assert kinds == ["Sound", "Dropped", "Gone"]
