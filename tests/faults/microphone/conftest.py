"""A sound system worked by hand: the test gives every block and moves the clock."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from types import SimpleNamespace
from typing import Any

import numpy as np
import pytest

from voicelog.capture.incoming import Incoming
from voicelog.capture.microphone import Microphone


class HandError(Exception):
    """What its streams and lists fail with."""


class HandStream:
    """A stream whose callback the test calls."""

    def __init__(self, hand: Hand, asked: Mapping[str, Any]) -> None:
        self._hand, self.asked = hand, asked
        self.active = self.closed = False

    def start(self) -> None:
        """Begin."""
        if self._hand.refuses_start:
            raise HandError("busy")
        self.active = True

    def abort(self) -> None:
        """Stop, as sounddevice does: the finished callback is called."""
        self.active = False
        self.asked["finished_callback"]()

    def close(self) -> None:
        """Let go."""
        self.closed, self.active = True, False


class Hand:
    """In place of the module sounddevice; a device is a name and its channels."""

    PortAudioError = HandError

    def __init__(self, **devices: int) -> None:
        self.plugged = dict(devices)
        self._listed = dict(devices)
        self.now_s = 100.0
        self.streams: list[HandStream] = []
        self.renewed = 0
        self.refuses_start = False
        self.rate_hz = 16_000
        self.refuses: set[tuple[int, int]] = set()

    @property
    def default(self) -> SimpleNamespace:
        """The first one."""
        return SimpleNamespace(device=(0 if self._listed else -1, -1))

    def query_devices(self) -> Sequence[Mapping[str, Any]]:
        """As they were when PortAudio was started."""
        return [
            {"name": name, "max_input_channels": channels, "max_output_channels": 0,
             "default_samplerate": float(self.rate_hz), "hostapi": 0}
            for name, channels in self._listed.items()
        ]  # fmt: skip

    def query_hostapis(self, index: int) -> Mapping[str, Any]:
        """One system."""
        return {"name": "hand"}

    def InputStream(self, **asked: Any) -> HandStream:  # noqa: N802
        """Open a device that is plugged in."""
        name = list(self._listed)[asked["device"]]
        if name not in self.plugged or (asked["channels"], asked["samplerate"]) in self.refuses:
            raise HandError("Invalid device")
        self.streams.append(HandStream(self, asked))
        return self.streams[-1]

    def _terminate(self) -> None:
        assert all(stream.closed for stream in self.streams)

    def _initialize(self) -> None:
        self.renewed += 1
        self._listed = dict(self.plugged)

    def clock(self) -> float:
        """Seconds."""
        return self.now_s

    def give(
        self, samples: Sequence[float] | np.ndarray, *, overflow: bool = False, adc_s: float = 0.0
    ) -> None:
        """One callback of the newest stream, in a buffer that is spoilt afterwards."""
        stream = self.streams[-1]
        block = np.repeat(np.asarray(samples, np.float32)[:, None], stream.asked["channels"], 1)
        self.now_s += len(block) / stream.asked["samplerate"]
        times = SimpleNamespace(inputBufferAdcTime=adc_s, currentTime=adc_s)
        status = SimpleNamespace(input_overflow=True) if overflow else 0
        stream.asked["callback"](block, len(block), times, status)
        block.fill(0.7)

    def microphone(self, wanted: str | None = None, **more: Any) -> Microphone:
        """A microphone on it."""
        return Microphone(wanted, library=self, clock=self.clock, **more)


@pytest.fixture
def hand() -> Hand:
    """One microphone with one channel at 16 kHz."""
    return Hand(lapel=1)


def all_of(microphone: Microphone) -> list[Incoming]:
    """Everything that can be read now."""
    found = []
    while (came := microphone.read(0.0)) is not None:
        found.append(came)
    return found


@pytest.fixture
def drain() -> Any:
    """Everything that can be read now, as a function of the microphone."""
    return all_of
