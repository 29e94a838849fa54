"""One output device through PortAudio, asking for sound whenever it needs some."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING, Any

from voicelog.domain.device import SPEAKER, Device, choose, described
from voicelog.errors import VoiceFault
from voicelog.tongue import worded

if TYPE_CHECKING:
    from numpy import float32
    from numpy.typing import NDArray

    Floats = NDArray[float32]

LATENCY_S = 0.04
"""Sound that the device may hold: enough for a busy machine, little enough to fall silent soon."""

BELIEVED_S = 2.0
"""A delay that a device tells is believed up to here; some tell nonsense, or nothing."""


class Speaker:
    """A device found and opened; it plays from :meth:`start` to :meth:`close`.

    Args:
        wanted: its number, or a part of its name; None means the system's.
        fill: gives this speaker so many samples, mono, -1 to 1; called from the device's thread,
            in time.
        lost: told that this speaker stopped by itself, and why, from the device's thread.
        library: :func:`portaudio`, or what stands in for it.

    Raises:
        VoiceFault: there is no such speaker, or it cannot be opened.
    """

    def __init__(
        self,
        wanted: str | int | None,
        fill: Callable[[Speaker, int], Floats],
        lost: Callable[[Speaker, str], None],
        library: Any,
    ) -> None:
        self._library = library
        self._fill, self._lost, self._closing = fill, lost, False
        found = choose(str(wanted or ""), self._all(), SPEAKER, VoiceFault)
        self.name, self.rate_hz = found.name, found.rate_hz
        self._stream = self._opened(found)
        self.latency_s = float(self._stream.latency)

    def start(self) -> None:
        """Begin to ask for sound.

        Raises:
            VoiceFault: the device refuses.
        """
        try:
            self._stream.start()
        except self._library.PortAudioError as error:
            self.close()
            raise _cannot_play(self.name, error) from error

    def close(self) -> None:
        """Let the device go; harmless when it is gone, and twice."""
        self._closing = True
        self._stream.close()  # ignores the device's errors

    def _all(self) -> tuple[Device, ...]:
        try:
            return described(self._library, SPEAKER)
        except (self._library.PortAudioError, UnicodeDecodeError) as error:
            raise VoiceFault(
                worded("The system cannot say which speakers it has ({error})", error=error),
                worded("Check that its sound system runs"),
            ) from error

    def _opened(self, found: Device) -> Any:
        try:
            return self._library.OutputStream(
                samplerate=self.rate_hz, device=found.index, dtype="float32",
                channels=min(2, found.channels), latency=LATENCY_S,
                callback=self._called, finished_callback=self._finished,
            )  # fmt: skip
        except (self._library.PortAudioError, ValueError) as error:
            raise _cannot_play(self.name, error) from error

    def _called(self, out: Any, frames: int, when: Any, status: object) -> None:
        """Fill one block, the same on every channel, and learn how long it takes to be heard."""
        del status  # an underflow is a short silence: nothing to be done about it here
        told_s = when.outputBufferDacTime - when.currentTime
        if 0.0 < told_s < BELIEVED_S:
            self.latency_s = float(told_s)
        out[:] = self._fill(self, frames)[:, None]

    def _finished(self) -> None:
        if not self._closing:
            self._lost(self, worded("it was unplugged or switched off"))


def portaudio() -> Any:
    """PortAudio through sounddevice, loaded when it is needed for the first time.

    Raises:
        VoiceFault: it is not installed.
    """
    try:
        import sounddevice
    except ImportError as error:
        raise VoiceFault(
            worded("The package sounddevice, which reaches the speaker, is not installed"),
            worded("pip install sounddevice"),
        ) from error
    except OSError as error:
        raise VoiceFault(
            worded("PortAudio, which reaches the speaker, is missing or does not load"),
            worded("On Debian and its kin: apt install libportaudio2"),
        ) from error
    return sounddevice


def _cannot_play(name: str, error: Exception) -> VoiceFault:
    reason = " ".join(str(part) for part in error.args[:1]) or type(error).__name__
    return VoiceFault(
        worded("The speaker {name} cannot be used ({reason})", name=name, reason=reason),
        worded("Check that nothing else holds it, or choose another with --speaker"),
    )
