"""A device that refuses what it said it can is opened in the way it does take."""

from __future__ import annotations

from typing import Any

import pytest

from voicelog.errors import MicrophoneFault


def _asked(hand: Any) -> tuple[int, int]:
    asked = hand.streams[-1].asked
    return asked["channels"], asked["samplerate"]


def test_own_rate_and_channels_come_first(hand: Any) -> None:
    """Nothing is converted by the system that we can convert ourselves."""
    hand.plugged = {"desk": 4}
    hand.rate_hz = 96_000
    hand._initialize()
    hand.microphone()
    assert _asked(hand) == (4, 96_000)


def test_virtual_device_with_any_number_of_channels_is_opened_with_two(hand: Any) -> None:
    """128 channels are nobody's microphone."""
    hand.plugged = {"default": 128}
    hand._initialize()
    hand.microphone()
    assert _asked(hand) == (2, 16_000)


def test_other_rates_are_tried(hand: Any) -> None:
    """The rate it names is refused, stereo too; 48 kHz mono it takes."""
    hand.plugged, hand.rate_hz = {"desk": 2}, 44_100
    hand._initialize()
    hand.refuses = {(2, 44_100), (1, 44_100), (2, 48_000)}
    hand.microphone()
    assert _asked(hand) == (1, 48_000)


def test_one_that_does_not_start_is_closed_and_told(hand: Any) -> None:
    """Busy devices open and then refuse to start: no stream stays open, the reason is told."""
    hand.refuses_start = True
    with pytest.raises(MicrophoneFault, match=r"'lapel' cannot be opened \(busy\)"):
        hand.microphone()
    assert all(stream.closed for stream in hand.streams)
