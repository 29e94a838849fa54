"""Choosing a microphone out of what a sound system says it has."""

from __future__ import annotations

import builtins
from collections.abc import Mapping, Sequence
from types import SimpleNamespace
from typing import Any

import pytest

from voicelog.capture.devices import (
    choose_input,
    choose_output,
    inputs,
    outputs,
    portaudio,
    renew,
)
from voicelog.errors import MicrophoneFault


class Listing:
    """A sound system that is only a list: names, channels in and out, system."""

    PortAudioError = RuntimeError
    InputStream = OutputStream = None

    def __init__(self, *rows: tuple[str, int, int, str], default: tuple[int, int] = (-1, -1)):
        self._rows, self.default = rows, SimpleNamespace(device=default)
        self.called: list[str] = []

    def query_devices(self) -> Sequence[Mapping[str, Any]]:
        """As sounddevice describes them."""
        return [
            {"name": name, "max_input_channels": ins, "max_output_channels": outs,
             "default_samplerate": 44_100.0, "hostapi": system}
            for name, ins, outs, system in self._rows
        ]  # fmt: skip

    def query_hostapis(self, index: str) -> Mapping[str, Any]:
        """The system's name is its number here."""
        return {"name": index}

    def _terminate(self) -> None:
        self.called.append("terminate")

    def _initialize(self) -> None:
        self.called.append("initialize")


SHOP = Listing(
    ("Speakers", 0, 2, "A"),
    ("Built-in microphone", 2, 0, "A"),
    ("USB headset", 1, 2, "A"),
    ("USB headset two", 1, 2, "A"),
    default=(1, 0),
)


def test_microphones_and_speakers_keep_their_numbers() -> None:
    """A device that only plays is no microphone; numbers are those of the whole list."""
    assert [(one.index, one.name) for one in inputs(SHOP)] == [
        (1, "Built-in microphone"), (2, "USB headset"), (3, "USB headset two"),
    ]  # fmt: skip
    assert [one.index for one in outputs(SHOP)] == [0, 2, 3]
    assert [one.index for one in inputs(SHOP) if one.is_default] == [1]
    assert [one.index for one in outputs(SHOP) if one.is_default] == [0]
    assert (inputs(SHOP)[0].channels, inputs(SHOP)[0].rate_hz) == (2, 44_100)


@pytest.mark.parametrize(
    ("wanted", "index"),
    [(None, 1), ("", 1), (" ", 1), ("2", 2), ("built", 1), ("USB HEADSET", 2), ("two", 3)],
)
def test_chosen_by_number_or_part_of_a_name(wanted: str | None, index: int) -> None:
    """None means the system's own; a whole name wins over a longer one that holds it."""
    assert choose_input(wanted, SHOP).index == index


@pytest.mark.parametrize(
    ("wanted", "told"),
    [
        ("usb", "More than one microphone matches 'usb'; there is 2: USB headset (A), 3:"),
        ("lapel", "There is no microphone 'lapel'; there is 1: Built-in microphone (A), 2:"),
        ("0", "There is no microphone '0'"),
        ("99", "There is no microphone '99'"),
    ],
)
def test_unclear_wish_lists_what_there_is(wanted: str, told: str) -> None:
    """Several, none, or the number of a speaker."""
    with pytest.raises(MicrophoneFault, match="Give its number, or more of its name") as fault:
        choose_input(wanted, SHOP)
    assert told in str(fault.value)
    assert fault.value.exit_code == 6


def test_without_a_default_the_first_is_taken() -> None:
    """A system need not have made a choice."""
    assert choose_input(None, Listing(("One", 1, 0, "A"), ("Two", 1, 0, "A"))).name == "One"


def test_device_offered_by_several_systems_is_one() -> None:
    """The same microphone under two sound systems: the one whose system holds the default."""
    twice = Listing(
        ("Lapel", 1, 0, "old"), ("Desk", 1, 0, "new"), ("Lapel", 1, 0, "new"), default=(1, -1)
    )
    assert choose_input("lapel", twice).index == 2


WHOLE = "Headset Microphone (Workshop Audio Pro 65)"
WINDOWS = Listing(
    (WHOLE[:31], 1, 0, "oldest"), ("Desk", 1, 0, "old"), (WHOLE, 1, 0, "old"),
    (WHOLE, 1, 0, "new"), default=(0, -1),
)  # fmt: skip


@pytest.mark.parametrize(
    ("wanted", "index"), [(WHOLE, 2), (WHOLE[:31], 0), ("headset", 0), ("desk", 1), ("3", 3)]
)
def test_one_name_in_several_systems_is_one_device(wanted: str, index: int) -> None:
    """The first system's, where the default's own has it not, or has its name cut: a name that was
    remembered is found again at the next start.
    """
    assert choose_input(wanted, WINDOWS).index == index


def test_cut_and_whole_name_without_a_default_are_one_device() -> None:
    """And the whole name finds the cut one where there is no other."""
    rows = ((WHOLE[:31], 1, 0, "oldest"), (WHOLE, 1, 0, "old"))
    assert choose_input("headset", Listing(*rows)).index == 0
    assert choose_input(WHOLE, Listing(rows[0])).index == 0


def test_two_of_one_name_in_one_system_are_two_devices() -> None:
    """Only the number can tell them apart; nor is a name preferred for its system's place."""
    for rows in (("Lapel", 1, 0, "A"), ("Lapel", 1, 0, "A")), (
        ("Lapel", 1, 0, "A"), ("Lapel two", 1, 0, "B"),
    ):  # fmt: skip
        with pytest.raises(MicrophoneFault, match="More than one microphone matches 'lap'"):
            choose_input("lap", Listing(*rows))


def test_no_device_at_all_is_told_with_the_next_step() -> None:
    """Neither microphone nor speaker."""
    with pytest.raises(MicrophoneFault, match="no microphone. Plug one in"):
        choose_input(None, Listing())
    with pytest.raises(MicrophoneFault, match="no speaker"):
        choose_output(None, Listing())


def test_hostile_name_is_one_plain_line() -> None:
    """Control characters and line ends in a device's name do nothing."""
    assert inputs(Listing(("Mic\r\n\x1b[31m  red\x00", 1, 0, "A")))[0].name == "Mic [31m red"


@pytest.mark.parametrize(
    ("error", "hint"),
    [(ImportError("x"), "pip install sounddevice"), (OSError("x"), "apt install libportaudio2")],
)
def test_missing_portaudio_says_what_to_install(
    monkeypatch: pytest.MonkeyPatch, error: Exception, hint: str
) -> None:
    """The Python package, or the library under it."""
    real = builtins.__import__

    def refuse(name: str, *more: Any, **others: Any) -> Any:
        if name == "sounddevice":
            raise error
        return real(name, *more, **others)

    monkeypatch.setattr(builtins, "__import__", refuse)
    with pytest.raises(MicrophoneFault, match=hint):
        portaudio()


def test_system_that_cannot_say_is_a_clear_error() -> None:
    """PortAudio's own failure while listing."""

    class Broken(Listing):
        def query_devices(self) -> Sequence[Mapping[str, Any]]:
            raise RuntimeError("PortAudio not initialized")

    with pytest.raises(MicrophoneFault, match="PortAudio not initialized"):
        inputs(Broken())


def test_renewing_goes_on_after_a_failed_try() -> None:
    """PortAudio that is down already is started all the same; one that stays down is told."""

    class Down(Listing):
        def _terminate(self) -> None:
            raise RuntimeError("not initialized")

    down = Down()
    renew(down)
    assert down.called == ["initialize"]

    class Dead(Listing):
        def _initialize(self) -> None:
            raise RuntimeError("no sound system")

    with pytest.raises(MicrophoneFault, match="does not start again"):
        renew(Dead())
