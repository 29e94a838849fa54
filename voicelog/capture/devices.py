"""Which microphones and speakers there are, and the only place that loads PortAudio for hearing."""

from __future__ import annotations

import re
from contextlib import suppress
from typing import cast

from voicelog.capture.library import Library
from voicelog.domain.device import MICROPHONE, SPEAKER, Kind, choose, described
from voicelog.domain.device import Device as Device
from voicelog.errors import MicrophoneFault
from voicelog.tongue import worded

_PLACE = re.compile(r" \(hw:\d+,\d+\)$")


def portaudio() -> Library:
    """PortAudio through sounddevice, loaded when it is needed for the first time.

    Raises:
        MicrophoneFault: it is not installed.
    """
    try:
        import sounddevice
    except ImportError as error:
        raise MicrophoneFault(
            worded("The package sounddevice, which reaches the microphone, is not installed"),
            worded("pip install sounddevice; recordings need none"),
        ) from error
    except OSError as error:
        raise MicrophoneFault(
            worded("PortAudio, which reaches the microphone, is missing or does not load"),
            worded("On Debian and its kin: apt install libportaudio2; recordings need none"),
        ) from error
    return cast(Library, sounddevice)


def inputs(library: Library | None = None) -> tuple[Device, ...]:
    """Every microphone there is, as far as PortAudio has looked.

    Raises:
        MicrophoneFault: PortAudio is missing, or cannot say.
    """
    return _devices(library or portaudio(), MICROPHONE)


def outputs(library: Library | None = None) -> tuple[Device, ...]:
    """Every speaker there is, as far as PortAudio has looked.

    Raises:
        MicrophoneFault: PortAudio is missing, or cannot say.
    """
    return _devices(library or portaudio(), SPEAKER)


def choose_input(wanted: str | None, library: Library | None = None) -> Device:
    """The microphone meant.

    Args:
        wanted: its number, or a part of its name; None means the system's, or else the first.
        library: PortAudio, or what stands in for it.

    Raises:
        MicrophoneFault: there is none, or more than one; it lists what there is.
    """
    return choose(wanted, inputs(library), MICROPHONE, MicrophoneFault)


def choose_output(wanted: str | None, library: Library | None = None) -> Device:
    """The speaker meant, found as :func:`choose_input` finds a microphone.

    Raises:
        MicrophoneFault: there is none, or more than one.
    """
    return choose(wanted, outputs(library), SPEAKER, MicrophoneFault)


def renew(library: Library) -> None:
    """Start PortAudio anew, so that it sees what was plugged in or out since.

    Every stream of this process must have been closed before: PortAudio frees them, whoever
    may still hold them.

    Raises:
        MicrophoneFault: it does not start again.
    """
    try:
        with suppress(library.PortAudioError):  # it may be down already, after a failed try
            library._terminate()
        library._initialize()
    except library.PortAudioError as error:
        raise MicrophoneFault(
            worded("PortAudio does not start again ({error})", error=error),
            worded("Start voicelog again; the log is kept"),
        ) from error


def _devices(library: Library, kind: Kind) -> tuple[Device, ...]:
    try:
        return described(library, kind)
    except (library.PortAudioError, UnicodeDecodeError) as error:
        raise MicrophoneFault(
            worded("The system cannot say which sound devices it has ({error})", error=error),
            worded("Check that its sound system runs; recordings need none"),
        ) from error


def bare_name(name: str) -> str:
    """A device's name without the place it is plugged in at, which may change."""
    return _PLACE.sub("", name)


def steady_name(wanted: str, device: str) -> str:
    """How a device is found again: by what was asked for, unless that was only its number.

    Args:
        wanted: a number, or a part of a name.
        device: the name of the device that was opened for it.
    """
    return bare_name(device) if wanted.isdecimal() else wanted
