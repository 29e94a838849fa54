"""One microphone while it is open: its stream, and its blocks made into 16 kHz sound."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from threading import Lock
from typing import Any

from voicelog.capture.convert import Converter
from voicelog.capture.devices import Device
from voicelog.capture.incoming import Dropped, Incoming, Sound
from voicelog.capture.intake import Block, Intake
from voicelog.capture.library import Library
from voicelog.errors import MicrophoneFault
from voicelog.tongue import worded

BLOCK_S = 0.032
"""Length of the blocks asked for: what the voice detector takes at once."""

LATENCY_S = 0.1
"""What the system may hold back for us: Python's lock can keep a callback waiting for tens of
milliseconds, and the shortest setting would lose sound by then."""

MOST_CHANNELS = 8
"""A device that says it has more is a virtual one that gives any number asked for."""

OTHER_RATES_HZ = (48_000, 44_100, 16_000)
"""Tried when a device refuses the rate that it says is its own."""

CLIPPED = 0.999
"""Of full scale: what a 16-bit converter at its limit gives, a little below 1."""

BUSY = "the program was too busy to take it in"
OVERFLOW = "the device had no room left to keep it"
UNMEASURED = f"{OVERFLOW}; how much is not known"


class Line:
    """An open stream, from its callback to :class:`Incoming`.

    Args:
        device: the microphone.
        library: PortAudio.
        clock: monotonic seconds.
        queue_s: sound that may wait to be read.

    Raises:
        MicrophoneFault: it cannot be opened.
    """

    def __init__(
        self, device: Device, library: Library, clock: Callable[[], float], queue_s: float
    ) -> None:
        self.device = device
        self._clock, self._queue_s, self._library = clock, queue_s, library
        self._guard = Lock()  # PortAudio must not be asked about a stream that is being freed
        self._stream, self.rate_hz, self.intake = self._opened()
        self._converter = Converter(self.rate_hz)
        self._ends_s = 0.0  # when the last block's last frame was taken in; 0 when not known
        self._at_s = clock()

    @property
    def waiting_s(self) -> float:
        """Sound that waits to be read, in seconds."""
        return self.intake.waiting_frames / self.rate_hz

    def trouble(self, silent_after_s: float) -> str:
        """Why no more sound will come, in a sentence; empty while all is well, or some waits."""
        if self.intake.waiting_frames:
            return ""
        if self.intake.finished or not self._active():
            return "its stream has stopped"
        if self._clock() - self.intake.last_at_s > silent_after_s:
            return f"it has given nothing for {silent_after_s:g} s"
        return ""

    def heard(self, block: Block) -> Iterator[Incoming]:
        """A block as sound; before it, what was lost."""
        yield from self._lost(block.lost_frames)
        if block.overflow:
            yield from self.rest()
            yield self._overflowed(block)
        duration_s = len(block.frames) / self.rate_hz
        self._ends_s, self._at_s = (block.adc_s and block.adc_s + duration_s), block.at_s
        clipped = bool(abs(block.frames).max(initial=0.0) >= CLIPPED)
        yield from self._sound(self._converter.convert(block.frames), clipped=clipped)

    def finish(self) -> Iterator[Incoming]:
        """What is left of a stream that has stopped."""
        yield from self._lost(self.intake.lost_frames)
        yield from self.rest()

    def rest(self) -> Iterator[Incoming]:
        """What the resampler holds; what comes next is not joined to it."""
        rest, self._converter = self._converter.flush(), Converter(self.rate_hz)
        yield from self._sound(rest)

    def close(self) -> None:
        """Let the device go; harmless twice and from any thread."""
        with self._guard:
            if not self._stream.closed:
                self._stream.abort()
                self._stream.close()
        self.intake.finish()

    def _sound(self, pcm: bytes, *, clipped: bool = False) -> Iterator[Incoming]:
        if pcm:
            yield Sound(pcm, self._at_s, clipped)

    def _lost(self, frames: int) -> Iterator[Incoming]:
        if frames:
            yield from self.rest()
            yield Dropped(frames / self.rate_hz, BUSY)

    def _overflowed(self, block: Block) -> Dropped:
        """How much was lost by the device's own clock, where it has one."""
        lost_s = block.adc_s - self._ends_s - block.lost_frames / self.rate_hz
        if not (block.adc_s and self._ends_s) or lost_s < 0.0:
            return Dropped(0.0, UNMEASURED)
        return Dropped(lost_s, OVERFLOW)

    def _active(self) -> bool:
        with self._guard:
            try:
                return bool(self._stream.active)
            except self._library.PortAudioError:
                return False

    def _opened(self) -> tuple[Any, int, Intake]:
        """The stream as the device likes it best, or in another way that it takes."""
        last: Exception | None = None
        for channels, rate_hz in _ways(self.device):
            intake = Intake(round(self._queue_s * rate_hz), self._clock)
            try:
                return self._started(channels, rate_hz, intake), rate_hz, intake
            except (self._library.PortAudioError, ValueError, OSError) as error:
                last = last or error  # the first tells most: the others were only tried
        raise MicrophoneFault(
            worded(
                "The microphone {name} cannot be opened ({error})",
                name=repr(self.device.name),
                error=last,
            ),
            worded(
                "Check that no other program holds it, or choose another: voicelog doctor lists them"
            ),
        ) from last

    def _started(self, channels: int, rate_hz: int, intake: Intake) -> Any:
        stream = self._library.InputStream(
            device=self.device.index, channels=channels, samplerate=rate_hz, dtype="float32",
            blocksize=round(rate_hz * BLOCK_S), latency=LATENCY_S,
            callback=intake.take, finished_callback=intake.finish,
        )  # fmt: skip
        try:
            stream.start()
        except BaseException:
            stream.close()
            raise
        return stream


def _ways(device: Device) -> list[tuple[int, int]]:
    """Channels and rate to try, best first."""
    own = device.channels if device.channels <= MOST_CHANNELS else 2
    rates = dict.fromkeys((device.rate_hz, *OTHER_RATES_HZ))
    return [(channels, rate) for rate in rates for channels in dict.fromkeys((own, 1))]
