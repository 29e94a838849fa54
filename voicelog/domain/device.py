"""Microphones and speakers as a sound system lists them, and which of them is meant."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any, Protocol

from voicelog.errors import VoicelogError
from voicelog.tongue import to_word, worded

CUT = 31
"""Characters that the oldest sound system of Windows keeps of a device's name."""


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


@dataclass(frozen=True, slots=True)
class Kind:
    """A direction of sound.

    Args:
        name: what people call such a device.
        channels: the key under which PortAudio gives its number of channels.
        default: the place of the system's choice in PortAudio's pair.
        none: that there is none.
        no_such: that none is the ``{wanted}`` one, and which are ``{listed}``.
        several: that more than one is.
        instead: what to do where there is none.
    """

    name: str
    channels: str
    default: int
    none: str
    no_such: str
    several: str
    instead: str


MICROPHONE = Kind(
    "microphone", "max_input_channels", 0,
    to_word("There is no microphone"),
    to_word("There is no microphone {wanted}; there is {listed}"),
    to_word("More than one microphone matches {wanted}; there is {listed}"),
    to_word("Plug one in and try again, or use recordings: voicelog hear FILE"),
)  # fmt: skip
SPEAKER = Kind(
    "speaker", "max_output_channels", 1,
    to_word("There is no speaker"),
    to_word("There is no speaker {wanted}; there is {listed}"),
    to_word("More than one speaker matches {wanted}; there is {listed}"),
    to_word("Plug one in, or switch it on"),
)  # fmt: skip


class Listing(Protocol):
    """As much of the module ``sounddevice`` as tells which devices there are."""

    @property
    def default(self) -> Any:
        """The system's choices; ``default.device`` is a pair of numbers, -1 for none."""

    def query_devices(self) -> Sequence[Mapping[str, Any]]:
        """Every device, in the order of its number."""

    def query_hostapis(self, index: int) -> Mapping[str, Any]:
        """The sound system of that number."""


def described(library: Listing, kind: Kind) -> tuple[Device, ...]:
    """Every device of a kind; what the library raises is not caught."""
    default = library.default.device[kind.default]
    return tuple(
        Device(
            index, _plain(one["name"]), int(one[kind.channels]), round(one["default_samplerate"]),
            str(library.query_hostapis(one["hostapi"])["name"]), index == default,
        )
        for index, one in enumerate(library.query_devices())
        if one[kind.channels] > 0
    )  # fmt: skip


def choose(
    wanted: str | None, found: tuple[Device, ...], kind: Kind, fault: type[VoicelogError]
) -> Device:
    """The device meant.

    Args:
        wanted: its number, or a part of its name; None means the system's, or else the first.
        found: those there are.
        kind: what they are.
        fault: raised when there is none, or more than one; it lists what there is.
    """
    if not found:
        raise fault(worded(kind.none), worded(kind.instead))
    wanted = (wanted or "").strip()
    if not wanted:
        return next((device for device in found if device.is_default), found[0])
    matches = _matches(wanted, found)
    if len(matches) == 1:
        return matches[0]
    listed = _listed(matches or found)
    raise fault(
        worded(kind.several if matches else kind.no_such, wanted=repr(wanted), listed=listed),
        worded("Give its number, or more of its name"),
    )


def _matches(wanted: str, found: tuple[Device, ...]) -> tuple[Device, ...]:
    """By number; else by the whole name; else by a part of it; else by a name that was cut."""
    if wanted.isdecimal():
        return tuple(device for device in found if device.index == int(wanted))
    folded = wanted.casefold()
    tests = (folded.__eq__, lambda name: folded in name, lambda name: _cut(name, folded))
    for test in tests:
        named = tuple(device for device in found if test(device.name.casefold()))
        if named:
            usual = next((device.system for device in found if device.is_default), "")
            return _of_one_system(named, usual)
    return ()


def _of_one_system(named: tuple[Device, ...], usual: str) -> tuple[Device, ...]:
    """Once, where systems repeat a device: from the system's own choice, else from the first that
    offers it. Devices of other names stay: one of them cannot be preferred.
    """
    in_usual = tuple(device for device in named if device.system == usual)
    if in_usual:
        return in_usual
    shortest = min((device.name for device in named), key=len)
    if all(device.name == shortest or _cut(shortest, device.name) for device in named):
        return tuple(device for device in named if device.system == named[0].system)
    return named


def _cut(name: str, whole: str) -> bool:
    """A name is the beginning of another, as long as some systems let it be."""
    return len(name) == CUT and whole.startswith(name)


def _plain(name: object) -> str:
    """A device's name on one line: some hold line ends, and any maker can put anything there."""
    return " ".join("".join(c if c.isprintable() else " " for c in str(name)).split())


def _listed(devices: tuple[Device, ...]) -> str:
    return ", ".join(f"{device.index}: {device.name} ({device.system})" for device in devices)
