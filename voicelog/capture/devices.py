"""Which microphones and speakers there are, and the only place that loads PortAudio for hearing."""

from __future__ import annotations

import re
from contextlib import suppress
from dataclasses import dataclass
from typing import cast

from voicelog.capture.library import Library
from voicelog.errors import MicrophoneFault

_PLACE = re.compile(r" \(hw:\d+,\d+\)$")


@dataclass(frozen=True, slots=True)
class Device:
    """One microphone, or one speaker.

    Args:
        index: its number; it may change when something is plugged in.
        name: as the system calls it.
        channels: as many as it has in its direction.
        rate_hz: the sample rate it works at by itself.
        system: the sound system that offers it; some offer the same device twice.
        is_default: the system's own choice.
    """

    index: int
    name: str
    channels: int
    rate_hz: int
    system: str
    is_default: bool = False


def portaudio() -> Library:
    """PortAudio through sounddevice, loaded when it is needed for the first time.

    Raises:
        MicrophoneFault: it is not installed.
    """
    try:
        import sounddevice
    except ImportError as error:
        raise MicrophoneFault(
            "The package sounddevice, which reaches the microphone, is not installed",
            "pip install sounddevice; recordings need none",
        ) from error
    except OSError as error:
        raise MicrophoneFault(
            "PortAudio, which reaches the microphone, is missing or does not load",
            "On Debian and its kin: apt install libportaudio2; recordings need none",
        ) from error
    return cast(Library, sounddevice)


def inputs(library: Library | None = None) -> tuple[Device, ...]:
    """Every microphone there is, as far as PortAudio has looked.

    Raises:
        MicrophoneFault: PortAudio is missing, or cannot say.
    """
    return _devices(library or portaudio(), "max_input_channels", 0)


def outputs(library: Library | None = None) -> tuple[Device, ...]:
    """Every speaker there is, as far as PortAudio has looked.

    Raises:
        MicrophoneFault: PortAudio is missing, or cannot say.
    """
    return _devices(library or portaudio(), "max_output_channels", 1)


def choose_input(wanted: str | None, library: Library | None = None) -> Device:
    """The microphone meant.

    Args:
        wanted: its number, or a part of its name; None means the system's, or else the first.
        library: PortAudio, or what stands in for it.

    Raises:
        MicrophoneFault: there is none, or more than one; it lists what there is.
    """
    return _choose(wanted, inputs(library), "microphone")


def choose_output(wanted: str | None, library: Library | None = None) -> Device:
    """The speaker meant, found as :func:`choose_input` finds a microphone.

    Raises:
        MicrophoneFault: there is none, or more than one.
    """
    return _choose(wanted, outputs(library), "speaker")


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
            f"PortAudio does not start again ({error})", "Start voicelog again; the log is kept"
        ) from error


def _devices(library: Library, channels: str, direction: int) -> tuple[Device, ...]:
    try:
        default = library.default.device[direction]
        return tuple(
            Device(
                index, _plain(one["name"]), int(one[channels]), round(one["default_samplerate"]),
                str(library.query_hostapis(one["hostapi"])["name"]), index == default,
            )
            for index, one in enumerate(library.query_devices())
            if one[channels] > 0
        )  # fmt: skip
    except (library.PortAudioError, UnicodeDecodeError) as error:
        raise MicrophoneFault(
            f"The system cannot say which sound devices it has ({error})",
            "Check that its sound system runs; recordings need none",
        ) from error


def _plain(name: object) -> str:
    """A device's name on one line: some hold line ends, and any maker can put anything there."""
    return " ".join("".join(c if c.isprintable() else " " for c in str(name)).split())


def _choose(wanted: str | None, found: tuple[Device, ...], kind: str) -> Device:
    if not found:
        raise MicrophoneFault(
            f"There is no {kind}",
            "Plug one in and try again, or use recordings: voicelog hear FILE",
        )
    wanted = (wanted or "").strip()
    if not wanted:
        return next((device for device in found if device.is_default), found[0])
    matches = _matches(wanted, found)
    if len(matches) == 1:
        return matches[0]
    many = f"More than one {kind} matches" if matches else f"There is no {kind}"
    raise MicrophoneFault(
        f"{many} {wanted!r}; there is {_listed(matches or found)}",
        "Give its number, or more of its name",
    )


def _matches(wanted: str, found: tuple[Device, ...]) -> tuple[Device, ...]:
    """By number; else by the whole name; else by a part of it, once where systems repeat it."""
    if wanted.isdecimal():
        return tuple(device for device in found if device.index == int(wanted))
    folded = wanted.casefold()
    for test in (folded.__eq__, lambda name: folded in name):
        named = tuple(device for device in found if test(device.name.casefold()))
        if named:
            usual = next((device.system for device in found if device.is_default), "")
            return tuple(device for device in named if device.system == usual) or named
    return ()


def _listed(devices: tuple[Device, ...]) -> str:
    return ", ".join(f"{device.index}: {device.name} ({device.system})" for device in devices)


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
