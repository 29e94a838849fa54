"""What comes from a microphone, or from what stands in for one."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Protocol


@dataclass(frozen=True, slots=True)
class Sound:
    """Sound, already 16 kHz mono.

    Args:
        pcm: signed 16-bit little-endian samples, a whole number of them, never empty.
        at_s: when its last sample came in, on the monotonic clock of the source.
        clipped: the device gave samples at its limit.
    """

    pcm: bytes
    at_s: float
    clipped: bool = False


@dataclass(frozen=True, slots=True)
class Dropped:
    """Sound that was lost between two :class:`Sound`, and why, in a sentence."""

    lost_s: float
    why: str


@dataclass(frozen=True, slots=True)
class Gone:
    """The device gives no sound any more; the source goes on looking for it."""

    device: str
    why: str


@dataclass(frozen=True, slots=True)
class Back:
    """A device gives sound again, after so many seconds without."""

    device: str
    away_s: float


@dataclass(frozen=True, slots=True)
class Odd:
    """Sound comes in, but at another rate than the device says.

    Args:
        device: its name.
        given_hz: samples a second that it gives.
        said_hz: that it was opened with.
    """

    device: str
    given_hz: float
    said_hz: int


@dataclass(frozen=True, slots=True)
class Ended:
    """There will be no more sound: the recordings that stood in for a microphone are over."""


Incoming = Sound | Dropped | Gone | Back | Odd | Ended


class Source(Protocol):
    """Where sound comes from. One reader; closing is harmless from any thread, and twice."""

    @property
    def device(self) -> str:
        """Its name, as a person would know it."""

    def now(self) -> float:
        """Seconds on the clock that times what comes in; it never goes back."""

    def read(self, timeout_s: float) -> Incoming | None:
        """The next thing that came in, in order; None when nothing did in that time."""

    def close(self) -> None:
        """Let the device go."""
