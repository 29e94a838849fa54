"""What flags tell of the vehicle: taken out, checked, put as a log keeps it."""

from __future__ import annotations

from typing import Any

import pytest

from voicelog.cli.vehicle_flags import LONGEST, take_vehicle
from voicelog.cli.vehicle_lines import odometer_in_words, vehicle_lines
from voicelog.domain.vehicle import Odometer, Refusal, Vehicle
from voicelog.errors import UsageFault


def test_every_flag_in_the_form_of_a_line() -> None:
    """And nothing of them is left for the settings."""
    flags: dict[str, Any] = {
        "vin": "1m8gdm9axkp042788", "plate": " AB  1 ", "paint_code": "k47", "inspector": "Sam",
        "odometer": "82 400 mi", "stood": "lift", "surface": ("dirty", "wet", "dirty"),
        "refused": ("Scraping: owner says no", "lifting"), "map": "ladder-frame",
    }  # fmt: skip
    assert take_vehicle(flags) == {
        "vin": "1M8GDM9AXKP042788", "plate": "AB 1", "paint_code": "k47", "inspector": "Sam",
        "odometer": {"value": 82400, "unit": "mi"}, "stood": "lift", "surface": ["dirty", "wet"],
        "refusals": [{"what": "scraping", "why": "owner says no"}, {"what": "lifting"}],
    }  # fmt: skip
    assert flags == {"map": "ladder-frame"}


def test_what_no_flag_says_is_not_set() -> None:
    """Click gives None and empty tuples."""
    flags: dict[str, Any] = {"vin": None, "odometer": None, "surface": (), "refused": ()}
    assert take_vehicle(flags) == {}


def test_things_are_taken_back() -> None:
    """An empty word, an empty reading, ``none``."""
    flags: dict[str, Any] = {
        "plate": "",
        "odometer": " ",
        "surface": ("none",),
        "refused": ("None",),
    }
    assert take_vehicle(flags) == {"plate": "", "odometer": None, "surface": [], "refusals": []}


def test_a_vin_that_fails_is_told_and_kept(capsys: pytest.CaptureFixture[str]) -> None:
    """Never mended: the problem goes with it wherever it is shown."""
    assert take_vehicle({"vin": "1M8GDM5AXKP042788"}) == {"vin": "1M8GDM5AXKP042788"}
    told = capsys.readouterr().err
    assert "position 9 is X, the other characters ask for 2" in told
    assert "kept as given" in told
    take_vehicle({"vin": "1M8GDM9AXKP042788"})
    assert capsys.readouterr().err == ""


@pytest.mark.parametrize(
    ("flags", "why"),
    [
        ({"odometer": "82400"}, "does not say miles or kilometres"),
        ({"odometer": "lots"}, "is no odometer reading"),
        ({"odometer": "2000001 km"}, "is no odometer reading"),
        ({"refused": ("towing: no hook",)}, "nothing that can be refused"),
        ({"plate": "A" * (LONGEST + 1)}, "--plate is longer than"),
        ({"paint_code": "A" * 10_000_000}, "--paint-code is longer than"),
    ],
)
def test_what_cannot_be_is_refused(flags: dict[str, Any], why: str) -> None:
    """One sentence and what to write instead."""
    with pytest.raises(UsageFault, match=why) as fault:
        take_vehicle(flags)
    assert len(str(fault.value)) < 400


def test_hostile_words_become_one_harmless_line() -> None:
    """Control characters, line ends, half a surrogate, marks that turn the text around."""
    flags = {"plate": "A\x1b[31m\nB\udcff\u202eC", "refused": ("scraping: no\x07\r\nway",)}
    told = take_vehicle(flags)
    assert told["plate"] == "A [31m B C"
    assert told["refusals"] == [{"what": "scraping", "why": "no way"}]


def test_the_vehicle_line_by_line() -> None:
    """One thing a line, its VIN's problem beside it, refusals with their words, doubts last."""
    vehicle = Vehicle(
        described="pickup", vin="X\x1b", vin_problem="2 characters instead of 17", stood="pit",
        odometer=Odometer(82400, "mi"), surface=("wet", "iced"),
        refusals=(Refusal("covers", "no \x1btools"), Refusal("probing")),
        contradictions=("Not one plate: A and B",), doubts=("plate A is in doubt\x07",),
    )  # fmt: skip
    lines = list(vehicle_lines(vehicle))
    assert lines == [
        "Vehicle:     pickup",
        "VIN:         X? (does not check: 2 characters instead of 17)",
        "Odometer:    82 400 mi (132 610 km)",
        "It stood:    over a pit",
        "Surface:     wet, iced",
        "Refused:     taking covers off (“no ?tools”)",
        "Refused:     probing",
        "Not one plate: A and B",
        "plate A is in doubt?",
    ]


@pytest.mark.parametrize(
    ("reading", "words"),
    [
        (None, ""),
        (Odometer(131452, "km"), "131 452 km"),
        (Odometer(82400.5, "mi"), "82 400.5 mi (132 611 km)"),
        (Odometer(0, "km"), "0 km"),
    ],
)
def test_a_reading_in_words(reading: Odometer | None, words: str) -> None:
    """Grouped by spaces; miles with their kilometres."""
    assert odometer_in_words(reading) == words
