"""A sound system that is not there: what :mod:`.microphone` hears when recordings are rehearsed.

:class:`PretendLibrary` keeps the contract of the module ``sounddevice``: a thread of its own calls
back at the pace of real time, with a buffer that it fills with rubbish as soon as the callback
returns. The bench and the tests use the same class, and make it lose sound or break on command.
"""

from __future__ import annotations

import math
import time
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from types import SimpleNamespace
from typing import TYPE_CHECKING, Any

from voicelog.capture.pretend_sound import PretendSound
from voicelog.capture.pretend_stream import PretendInput, PretendOutput

if TYPE_CHECKING:
    from numpy import float32
    from numpy.typing import NDArray

    Floats = NDArray[float32]

NAME = "recordings in place of a microphone"


class PretendError(Exception):
    """What ``sounddevice.PortAudioError`` is to the real one."""


@dataclass(slots=True)
class Fate:
    """What happens to the device; changed on command, from any thread.

    Args:
        there: it is plugged in.
        seen: PortAudio has noticed that it is; it looks only when it is started anew.
        stalled: it is there, and gives nothing.
        mute: it gives zeros.
        has_clock: it says when its sound was taken in.
    """

    there: bool = True
    seen: bool = True
    stalled: bool = False
    mute: bool = False
    has_clock: bool = True


class PretendLibrary:
    """One microphone and one speaker, in place of the module ``sounddevice``.

    Args:
        sound: blocks of any length between -1 and 1, shape (frames, channels), taken one by one
            as they are played; a fault that it raises is told by :meth:`over`.
        name: of the device.
        rate_hz: the only rate it can.
        channels: of the microphone.
        speed: how much faster than life; ``math.inf`` is as fast as it is read.
    """

    def __init__(
        self,
        sound: Iterable[Floats],
        *,
        name: str = NAME,
        rate_hz: int = 16_000,
        channels: int = 1,
        speed: float = 1.0,
    ) -> None:
        self.name, self.rate_hz, self.channels, self.speed = name, rate_hz, channels, speed
        self.fate = Fate()
        self.full: Callable[[], bool] = lambda: False
        """At endless speed, asked before every block: True makes it wait."""
        self.heard: list[Floats] = []
        """What was played to the speaker."""
        self._sound = PretendSound(sound, rate_hz)
        self._streams: list[PretendInput] = []
        self._begun_s = time.monotonic()

    # --- what sounddevice has -------------------------------------------------------------------

    @property
    def PortAudioError(self) -> type[Exception]:  # noqa: N802  sounddevice's names
        """What it raises."""
        return PretendError

    @property
    def default(self) -> SimpleNamespace:
        """The system's own choice of devices, by number; -1 for none."""
        return SimpleNamespace(device=(0, 0) if self.fate.seen else (-1, -1))

    def query_devices(self) -> Sequence[Mapping[str, Any]]:
        """The devices that were there when PortAudio was started."""
        one = {
            "name": self.name, "index": 0, "hostapi": 0, "default_samplerate": float(self.rate_hz),
            "max_input_channels": self.channels, "max_output_channels": 2,
        }  # fmt: skip
        return (one,) if self.fate.seen else ()

    def query_hostapis(self, index: int) -> Mapping[str, Any]:
        """The one sound system there is."""
        return {"name": "pretended", "index": index}

    def InputStream(self, **asked: Any) -> PretendInput:  # noqa: N802
        """Open the microphone.

        Raises:
            PretendError: it is not there, or cannot what is asked for.
        """
        self._refuse(asked, self.channels)
        stream = PretendInput(self, **asked)
        self._streams.append(stream)
        return stream

    def OutputStream(self, **asked: Any) -> PretendOutput:  # noqa: N802
        """Open the speaker.

        Raises:
            PretendError: it is not there, or cannot what is asked for.
        """
        self._refuse(asked, 2)
        return PretendOutput(self, **asked)

    def _terminate(self) -> None:
        if any(not stream.closed for stream in self._streams):
            raise AssertionError("PortAudio would free a stream that somebody still holds")
        self._streams.clear()

    def _initialize(self) -> None:
        self.fate.seen = self.fate.there

    # --- what befalls it ------------------------------------------------------------------------

    def lose(self) -> None:
        """Pull the plug: the stream stops, the sound waits."""
        self.fate.there = False

    def give_back(self) -> None:
        """Put the plug back in."""
        self.fate.there = True

    def stall(self, stalled: bool = True) -> None:
        """Stay there and give nothing, or go on."""
        self.fate.stalled = stalled

    def mute(self, mute: bool = True) -> None:
        """Give zeros in place of the sound, or the sound again."""
        self.fate.mute = mute

    def overflow(self, lost_s: float) -> None:
        """Lose so much sound, and say so to the next callback."""
        self._sound.discard(lost_s)

    # --- how it goes on -------------------------------------------------------------------------

    @property
    def given_s(self) -> float:
        """Length of the sound given so far, what was lost on the way included."""
        return self._sound.given_s

    def now(self) -> float:
        """Monotonic seconds of its own time: at endless speed, the length of the sound given."""
        if math.isinf(self.speed):
            return self.given_s
        return (time.monotonic() - self._begun_s) * self.speed

    def over(self) -> bool:
        """True once all sound was given.

        Raises:
            VoicelogError: what the sound ended with.
        """
        return self._sound.over()

    def take(self, frames: int) -> tuple[bool, Floats]:
        """Was sound lost, and the next so many frames: fewer only at the end."""
        return self._sound.take(frames)

    def _refuse(self, asked: Mapping[str, Any], channels: int) -> None:
        if not (self.fate.there and self.fate.seen) or asked.get("device") not in (0, None):
            raise PretendError("Invalid device")
        if asked["channels"] > channels:
            raise PretendError("Invalid number of channels")
        if asked["samplerate"] != self.rate_hz:
            raise PretendError("Invalid sample rate")
