"""A sound system without hardware, a clock that stands still, and a voice of known sounds."""

from __future__ import annotations

from collections.abc import Callable
from types import SimpleNamespace
from typing import Any

import numpy as np
import pytest
from numpy.typing import NDArray

from voicelog.announce.voice import Spoken

RATE_HZ = 8_000
Floats = NDArray[np.float32]


class Clock:
    """Seconds that go up when told to."""

    def __init__(self) -> None:
        self.now_s = 100.0

    def __call__(self) -> float:
        """Now."""
        return self.now_s


class Stream:
    """An output stream that asks for sound when :meth:`pump` is called, as PortAudio's thread does.

    It honours the contract of sounddevice's callback: a block to be filled completely, shape
    (frames, channels); the finished callback comes with every end, wanted or not.
    """

    def __init__(self, clock: Clock, options: dict[str, Any]) -> None:
        self.clock, self.options, self.latency = clock, options, 0.03
        self.started = self.closed = False
        self.refuses: Exception | None = None

    def start(self) -> None:
        """Begin to ask."""
        if self.refuses is not None:
            raise self.refuses
        self.started = True

    def close(self, ignore_errors: bool = True) -> None:
        """Stop, and let the device go."""
        if self.started and not self.closed:
            self.options["finished_callback"]()
        self.closed = True

    def unplug(self) -> None:
        """Stop without having been asked to."""
        self.started = False
        self.options["finished_callback"]()

    def pump(self, frames: int) -> Floats:
        """Ask for so many frames, let the time for them pass, and give the first channel."""
        assert self.started
        assert not self.closed
        out = np.full((frames, self.options["channels"]), np.nan, np.float32)
        when = SimpleNamespace(
            currentTime=self.clock(), outputBufferDacTime=self.clock() + self.latency
        )
        self.options["callback"](out, frames, when, None)
        assert np.isfinite(out).all()
        assert (out == out[:, :1]).all()
        self.clock.now_s += frames / RATE_HZ
        return out[:, 0]


class Library:
    """As much of the module ``sounddevice`` as is used, with two devices that can play."""

    class PortAudioError(Exception):
        """What the real one raises."""

    def __init__(self, clock: Clock) -> None:
        self.clock = clock
        self.streams: list[Stream] = []
        self.devices: list[dict[str, Any]] = [
            {"name": "Line in", "max_output_channels": 0},
            {"name": "Desk speaker", "max_output_channels": 8},
            {"name": "Headset", "max_output_channels": 1},
        ]
        self.opening: Exception | None = None
        self.starting: Exception | None = None

    @property
    def stream(self) -> Stream:
        """The one opened last."""
        return self.streams[-1]

    @property
    def default(self) -> SimpleNamespace:
        """The first that plays is the system's own choice."""
        plays = [n for n, one in enumerate(self.devices) if one["max_output_channels"]]
        return SimpleNamespace(device=(-1, plays[0] if plays else -1))

    def query_devices(self) -> Any:
        """All of them, in the one sound system there is unless told otherwise."""
        return [{"default_samplerate": float(RATE_HZ), "hostapi": "A", **d} for d in self.devices]

    def query_hostapis(self, index: str) -> dict[str, str]:
        """Its name is its number."""
        return {"name": index}

    def OutputStream(self, **options: Any) -> Stream:  # noqa: N802  (the real one's name)
        """Open a stream."""
        if self.opening is not None:
            raise self.opening
        self.streams.append(Stream(self.clock, options))
        self.stream.refuses = self.starting
        return self.stream


class Talker:
    """A voice that says half a second of a constant for every text, and notes what it said."""

    name = "talker"

    def __init__(self) -> None:
        self.said: list[str] = []
        self.fault: Exception | None = None

    def speak(self, text: str) -> Spoken:
        """Half a second, or the fault."""
        self.said.append(text)
        if self.fault is not None:
            raise self.fault
        return Spoken(np.full(RATE_HZ // 2, 0.25, np.float32), RATE_HZ)


@pytest.fixture
def clock() -> Clock:
    """Stands still."""
    return Clock()


@pytest.fixture
def library(clock: Clock) -> Library:
    """A sound system that works."""
    return Library(clock)


@pytest.fixture
def talker() -> Talker:
    """A voice that works."""
    return Talker()


@pytest.fixture
def sound() -> Callable[[float], Floats]:
    """A constant of so many seconds."""
    return lambda seconds: np.full(round(seconds * RATE_HZ), 0.5, np.float32)
