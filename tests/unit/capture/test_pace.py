"""A microphone that gives sound at another rate than it says is told once."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
import pytest

from voicelog.capture.incoming import Odd
from voicelog.capture.intake import Block
from voicelog.capture.pace import LOOKED_S, Pace

FRAMES = 512


def _blocks(given_hz: float, seconds: float, **more: bool | int) -> Iterator[Block]:
    """Sound as it comes in, each block a little late or early."""
    rng = np.random.default_rng(1909)
    for number in range(1, round(seconds * given_hz / FRAMES)):
        at_s = 100.0 + number * FRAMES / given_hz + rng.uniform(0.0, 0.03)
        yield Block(np.zeros((FRAMES, 1), np.float32), at_s, **more)


def _told(given_hz: float, seconds: float = 30.0, **more: bool | int) -> list[Odd]:
    pace = Pace("lapel", 48_000)
    return [odd for block in _blocks(given_hz, seconds, **more) if (odd := pace.take(block))]


@pytest.mark.parametrize("given_hz", [16_000, 44_100, 96_000])
def test_another_rate_is_told_once_with_the_one_it_gives(given_hz: int) -> None:
    """44.1 kHz for 48 is the nearest that any device confuses."""
    (odd,) = _told(given_hz)
    assert (odd.device, odd.said_hz) == ("lapel", 48_000)
    assert odd.given_hz == pytest.approx(given_hz, rel=0.01)


@pytest.mark.parametrize("given_hz", [47_000, 48_000, 49_500])
def test_a_clock_that_is_a_little_off_is_no_fault(given_hz: int) -> None:
    """Nobody hears three percent."""
    assert _told(given_hz) == []


def test_a_machine_that_hardly_keeps_up_is_no_fault_of_the_microphone() -> None:
    """Its callbacks come late, and then in a heap: too few in one count, too many in the next."""
    pace, frames = Pace("lapel", 48_000), np.zeros((4_800, 1), np.float32)
    told, at_s, rng = list[Odd | None](), 100.0, np.random.default_rng(1909)
    for number in range(600):
        due_s = 100.0 + number * 0.1
        at_s = max(at_s, due_s, 0.0 if rng.random() > 0.1 else due_s + rng.uniform(0.1, 0.45))
        told.append(pace.take(Block(frames, at_s)))
    assert not any(told)


def test_what_was_lost_counts_for_nothing() -> None:
    """A program too busy to take the sound in has its own notice."""
    assert _told(16_000, overflow=True) == []
    assert _told(16_000, lost_frames=3) == []


def test_a_gap_begins_the_count_anew() -> None:
    """After a stop the first block comes late, and says nothing of the rate."""
    pace, frames = Pace("lapel", 48_000), np.zeros((FRAMES, 1), np.float32)
    times = [second + step * FRAMES / 48_000 for second in (0.0, 50.0) for step in range(300)]
    assert all(pace.take(Block(frames, at_s)) is None for at_s in times)
    assert LOOKED_S < 50.0
