"""What flags tell of the vehicle: checked, and put as a log keeps it."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from typing import Any

import click

from voicelog.cli.flags import Command, with_options
from voicelog.cli.paragraphs import say
from voicelog.domain.inert import inert
from voicelog.domain.vehicle import REFUSED, STOOD, SURFACES, odometer_of
from voicelog.domain.vin import vin_check
from voicelog.errors import UsageFault
from voicelog.tongue import worded

LONGEST = 120
"""Characters of a name, a number or a reason: a sentence at most."""
NONE = "none"
"""Takes a list back."""

_ABOUT = (
    click.option("--vin", metavar="VIN", help="Its identification number; a check digit that fails is told, and kept."),
    click.option("--plate", metavar="TEXT", help="Its registration plate."),
    click.option("--paint-code", metavar="TEXT", help="Its paint code."),
    click.option("--odometer", metavar="READING", help='What its odometer shows, with the unit: "82 400 mi".'),
    click.option("--inspector", metavar="NAME", help="Who inspects [the setting inspector]."),
    click.option("--stood", type=click.Choice(STOOD), help="How it stands while its frame is looked at."),
    click.option("--surface", multiple=True, type=click.Choice((*SURFACES, NONE)),
                 help="What lies over the metal everywhere; may be repeated."),
    click.option("--refused", multiple=True, metavar="WHAT: WHY",
                 help=f'What could not be done ({", ".join(REFUSED)}): "scraping: owner says no"; may be repeated.'),
)  # fmt: skip
_TEXTS = ("described", "vin", "plate", "paint_code", "inspector")


def vehicle_flags(command: Command) -> Command:
    """The flags that tell of the vehicle."""
    return with_options(command, _ABOUT)


def take_vehicle(flags: dict[str, Any]) -> dict[str, Any]:
    """What the flags tell of the vehicle, taken out of ``flags``: the ``set`` of a log's line.

    A VIN whose check fails is told on standard error and kept as it was given.

    Raises:
        UsageFault: one of them cannot be.
    """
    told: dict[str, Any] = {}
    for name in _TEXTS:
        if (text := flags.pop(name, None)) is not None:
            told[name] = _plain(text, name)
    if "vin" in told:
        told["vin"] = _checked(told["vin"])
    for name, put in _PUT.items():
        given = flags.pop("refused" if name == "refusals" else name, None)
        if given not in (None, ()):
            told[name] = put(given)
    return told


def _plain(text: str, name: str) -> str:
    """One line of text that can be shown anywhere.

    Raises:
        UsageFault: it is too long.
    """
    plain = " ".join("".join(c if c.isprintable() else " " for c in text).split())
    if len(plain) > LONGEST:
        named = name.replace("_", "-")
        raise UsageFault(
            worded("--{named} is longer than {most} characters", named=named, most=LONGEST),
            worded("Shorten it"),
        )
    return plain


def _checked(text: str) -> str:
    checked = vin_check(text)
    if checked.problem and text:
        told = worded(
            "The VIN {checked} does not check: {problem}",
            checked=inert(checked.text),
            problem=checked.problem,
        )
        say(worded("voicelog: {told}. It is kept as given.", told=told), err=True)
    return checked.text


def _odometer(text: str) -> dict[str, Any] | None:
    if not text.strip():
        return None
    reading = odometer_of(text)
    if reading is None or not reading[1]:
        shown = inert(text, LONGEST)
        raise UsageFault(
            worded('"{text}" is no odometer reading', text=shown)
            if reading is None
            else worded('"{text}" does not say miles or kilometres', text=shown),
            worded('Write it like "82 400 mi" or "131452 km"'),
        )
    value, unit = reading
    return {"value": int(value) if value == int(value) else value, "unit": unit}


def _surface(given: Sequence[str]) -> list[str]:
    return [value for value in dict.fromkeys(given) if value != NONE]


def _refusals(given: Sequence[str]) -> list[dict[str, str]]:
    return [_refusal(text) for text in given if text.strip().lower() != NONE]


def _refusal(text: str) -> dict[str, str]:
    what, _, why = _plain(text, "refused").partition(":")
    what, why = what.strip().lower(), why.strip()
    if what not in REFUSED:
        raise UsageFault(
            worded('"{what}" is nothing that can be refused', what=inert(what)),
            worded("Choose one of {refused}", refused=", ".join(REFUSED)),
        )
    return {"what": what, **({"why": why} if why else {})}


_PUT: Mapping[str, Callable[[Any], Any]] = {
    "odometer": _odometer, "stood": str, "surface": _surface, "refusals": _refusals,
}  # fmt: skip
