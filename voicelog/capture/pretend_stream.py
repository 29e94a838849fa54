"""The streams of :class:`~voicelog.capture.pretend.PretendLibrary`."""

from __future__ import annotations

import math
import time
from collections.abc import Callable
from dataclasses import dataclass
from threading import Event, Thread, current_thread
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from numpy import float32
    from numpy.typing import NDArray

    from voicelog.capture.pretend import PretendLibrary

    Floats = NDArray[float32]

RUBBISH = 0.9
"""What a buffer holds once it is no longer the callback's."""

NAP_S = 0.0005
"""How long is waited before looking again whether there is room, or a device."""


@dataclass(frozen=True, slots=True)
class Flags:
    """The callback's status, as sounddevice gives it."""

    input_overflow: bool = False

    def __bool__(self) -> bool:
        return self.input_overflow


@dataclass(frozen=True, slots=True)
class Times:
    """The callback's times, named as PortAudio names them; 0 where the device has no clock."""

    inputBufferAdcTime: float  # noqa: N815
    currentTime: float  # noqa: N815
    outputBufferDacTime: float = 0.0  # noqa: N815


class PretendInput:
    """A stream of the pretended microphone, with the thread that calls back."""

    def __init__(
        self,
        library: PretendLibrary,
        *,
        samplerate: float,
        channels: int,
        callback: Callable[[Floats, int, Any, Any], None],
        blocksize: int = 0,
        finished_callback: Callable[[], None] | None = None,
        **_more: Any,
    ) -> None:
        import numpy as np

        self.samplerate, self.channels, self.latency = samplerate, channels, 0.0
        self.closed, self.blocksize = False, blocksize or 512
        self._library, self._callback = library, callback
        self._finished = finished_callback or (lambda: None)
        self._stop = Event()
        self._buffer = np.empty((self.blocksize, channels), np.float32)
        self._thread = Thread(target=self._run, name="pretended sound", daemon=True)

    @property
    def active(self) -> bool:
        """It calls back, or soon will."""
        return not self.closed and self._thread.is_alive()

    def start(self) -> None:
        """Begin to call back."""
        self._thread.start()

    def stop(self) -> None:
        """Call back no more; returns when the last callback has."""
        self._stop.set()
        if self._thread.is_alive() and self._thread is not current_thread():
            self._thread.join()

    abort = stop

    def close(self) -> None:
        """Let the device go."""
        self.stop()
        self.closed = True

    def _run(self) -> None:
        try:
            due_s = self._library.now()
            while self._wait_until(due_s := due_s + self.blocksize / self.samplerate):
                if not self._library.fate.stalled and not self._call_back():
                    return
        finally:
            self._finished()

    def _wait_until(self, due_s: float) -> bool:
        """Wait for a block's sound to be over; False when the stream is to stop."""
        while not self._stop.is_set() and self._library.fate.there:
            ahead_s = self._ahead_s(due_s)
            if ahead_s <= 0.0:
                return True
            time.sleep(min(ahead_s, 0.02))
        return False

    def _ahead_s(self, due_s: float) -> float:
        """How long to wait yet: for the time, or at endless speed for room."""
        if math.isinf(self._library.speed):
            return NAP_S if self._library.full() or self._library.fate.stalled else 0.0
        return (due_s - self._library.now()) / self._library.speed

    def _call_back(self) -> bool:
        """One block; False when the sound is over. What the callback raises ends the stream."""
        library = self._library
        overflow, sound = library.take(self.blocksize)
        if not len(sound):
            return False
        frames = len(sound)
        self._buffer[:frames] = 0.0 if library.fate.mute else sound[:, : self.channels]
        at_s = library.given_s - frames / self.samplerate + 1.0
        times = Times(at_s if library.fate.has_clock else 0.0, at_s)
        try:
            self._callback(self._buffer[:frames], frames, times, Flags(overflow))
        except Exception:
            return False
        finally:
            self._buffer.fill(RUBBISH)
        return True


class PretendOutput:
    """A stream of the pretended speaker; it takes no time."""

    def __init__(self, library: PretendLibrary, **asked: Any) -> None:
        self.samplerate, self.closed = float(asked["samplerate"]), False
        self._library = library

    def __enter__(self) -> PretendOutput:
        return self

    def __exit__(self, *_error: object) -> None:
        self.close()

    def start(self) -> None:
        """Begin to play."""

    def write(self, data: Floats) -> bool:
        """Play; False: nothing was late."""
        self._library.heard.append(data.copy())
        return False

    def stop(self) -> None:
        """Play to the end."""

    abort = stop

    def close(self) -> None:
        """Let the device go."""
        self.closed = True
