"""The narrow side of a microphone: what PortAudio's own thread hands over, queued and counted.

:meth:`Intake.take` runs on a thread that must never wait: it copies the block, notes the time and
returns. Everything else happens on the reader's thread.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from queue import Empty, SimpleQueue
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from numpy import float32
    from numpy.typing import NDArray

    Floats = NDArray[float32]


@dataclass(frozen=True, slots=True)
class Block:
    """What one callback brought.

    Args:
        frames: a copy, shape (frames, channels).
        at_s: when it was handed over, on the clock of the intake.
        adc_s: when its first frame was taken in, on the device's clock; 0 when not known.
        overflow: the device says that it lost sound before this block.
        lost_frames: frames before it that found no room in the queue.
    """

    frames: Floats
    at_s: float
    adc_s: float = 0.0
    overflow: bool = False
    lost_frames: int = 0

    @property
    def is_silent(self) -> bool:
        """Nothing but zeros, or what is no number at all."""
        import numpy as np

        return not (np.isfinite(self.frames) & (self.frames != 0)).any()


class Intake:
    """A queue with one writer, PortAudio's thread, and one reader.

    Args:
        most_frames: what may wait in it; what comes on top is counted and let go.
        clock: monotonic seconds.
    """

    def __init__(self, most_frames: int, clock: Callable[[], float]) -> None:
        self._most, self._clock = most_frames, clock
        self._queue: SimpleQueue[Block | None] = SimpleQueue()
        self._put = 0  # frames; written by the callback only
        self._taken = 0  # frames; written by the reader only
        self.lost_frames = 0
        """Frames let go since the last block that found room."""
        self._overflow = False  # told with a block that found no room
        self.last_at_s = clock()
        """When the device last showed that it lives."""
        self.finished = False
        """No callback will come any more."""

    @property
    def waiting_frames(self) -> int:
        """Frames that wait to be read."""
        return self._put - self._taken

    def take(self, indata: Floats, frames: int, time: Any, status: Any) -> None:
        """The callback: ``indata`` belongs to PortAudio and changes after this returns."""
        self.last_at_s = self._clock()
        self._overflow |= bool(status) and bool(status.input_overflow)
        if self.waiting_frames + frames > self._most:
            self.lost_frames += frames
            return
        lost, self.lost_frames = self.lost_frames, 0
        overflow, self._overflow = self._overflow, False
        adc_s = float(time.inputBufferAdcTime)
        self._put += frames
        self._queue.put(Block(indata.copy(), self.last_at_s, adc_s, overflow, lost))

    def finish(self) -> None:
        """The stream has stopped, for whatever reason; whoever waits is woken."""
        self.finished = True
        self._queue.put(None)

    def next(self, timeout_s: float) -> Block | None:
        """The next block; None when none came in that time, or none will come."""
        try:
            block = self._queue.get(timeout=max(0.0, timeout_s))
        except Empty:
            return None
        if block is not None:
            self._taken += len(block.frames)
        return block
