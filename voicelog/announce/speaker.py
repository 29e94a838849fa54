"""One output device through PortAudio, asking for sound whenever it needs some."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING, Any

from voicelog.errors import VoiceFault

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
        fill: gives so many samples, mono, -1 to 1; called from the device's thread, in time.
        lost: told why, from the device's thread, when it stops by itself.
        library: stands in for the module ``sounddevice``.

    Raises:
        VoiceFault: there is no such speaker, it cannot be opened, or PortAudio is missing.
    """

    def __init__(
        self,
        wanted: str | int | None,
        fill: Callable[[int], Floats],
        lost: Callable[[str], None],
        *,
        library: Any = None,
    ) -> None:
        self._library = library or _portaudio()
        self._fill, self._lost, self._closing = fill, lost, False
        found = self._found(wanted)
        self.name, self.rate_hz = str(found["name"]), round(found["default_samplerate"])
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

    def _found(self, wanted: str | int | None) -> Any:
        meant = _meant(wanted)
        try:
            return self._library.query_devices(meant, "output")
        except (self._library.PortAudioError, ValueError) as error:
            what = "There is no speaker" if meant is None else f"There is no one speaker {meant!r}"
            raise VoiceFault(what, _hint(self._library)) from error

    def _opened(self, found: Any) -> Any:
        try:
            return self._library.OutputStream(
                samplerate=self.rate_hz, device=found["index"], dtype="float32",
                channels=min(2, found["max_output_channels"]), latency=LATENCY_S,
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
        out[:] = self._fill(frames)[:, None]

    def _finished(self) -> None:
        if not self._closing:
            self._lost("it was unplugged or switched off")


def _meant(wanted: str | int | None) -> str | int | None:
    """A number from digits; None from nothing."""
    told = str(wanted).strip() if wanted is not None else ""
    return int(told) if told.isdecimal() else told or None


def _portaudio() -> Any:
    try:
        import sounddevice
    except ImportError as error:
        raise VoiceFault(
            "The package sounddevice, which reaches the speaker, is not installed",
            "pip install sounddevice",
        ) from error
    except OSError as error:
        raise VoiceFault(
            "PortAudio, which reaches the speaker, is missing or does not load",
            "On Debian and its kin: apt install libportaudio2",
        ) from error
    return sounddevice


def _hint(library: Any) -> str:
    """Which speakers there are, so that one can be named."""
    try:
        found = [
            f"{index}: {device['name']}"
            for index, device in enumerate(library.query_devices())
            if device["max_output_channels"] > 0
        ]
    except (library.PortAudioError, ValueError):
        found = []
    return f"There is {', '.join(found)}" if found else "Plug one in, or switch it on"


def _cannot_play(name: str, error: Exception) -> VoiceFault:
    reason = " ".join(str(part) for part in error.args[:1]) or type(error).__name__
    return VoiceFault(
        f"The speaker {name} cannot be used ({reason})",
        "Check that nothing else holds it, or choose another with --speaker",
    )
