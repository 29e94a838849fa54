"""The vehicle itself: what it is, how it stood, and what its owner did not allow."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, replace

KM_OF = {"km": 1.0, "mi": 1.609344}
"""Kilometres in one unit of an odometer (the international mile: 1 609.344 m, NIST SP 811, B.8)."""

FARTHEST = 2_000_000
"""The most that an odometer is taken to show, in its own unit; ours. More was probably misheard."""

STOOD = ("lift", "stands", "ramp", "pit", "floor")
"""How a vehicle can stand while its frame is looked at."""
SURFACES = ("dirty", "wet", "iced", "coated")
"""What may lie over the metal everywhere."""
REFUSED = ("scraping", "probing", "cleaning", "covers", "lifting")
"""What may not be allowed, or not be possible; ``covers`` is taking them off."""

IN_WORDS: Mapping[str, str] = {
    "lift": "on a lift", "stands": "on stands", "ramp": "on a ramp", "pit": "over a pit",
    "floor": "on the floor", "covers": "taking covers off", "lifting": "lifting it",
    "scraping": "scraping", "probing": "probing", "cleaning": "cleaning",
}  # fmt: skip
"""How it stands, and what was refused, the way it is told to people."""

VEHICLE = "vehicle"
"""The type of the fact that says something of the vehicle later, the key under which the fact that
opens a log says the same, and the tag of every remark about the vehicle as a whole."""

_READING = re.compile(
    r"(\d+|\d{1,3}([ ,'.])\d{3}(?:\2\d{3})*)(?:\.(\d))?\s*"
    r"(?:(miles?|mi)|(kilomet(?:re|er)s?|kms?))?",
    re.ASCII | re.IGNORECASE,
)


@dataclass(frozen=True, slots=True)
class Odometer:
    """A reading as it was told.

    Args:
        value: in its own unit.
        unit: ``km`` or ``mi``.
    """

    value: float
    unit: str

    @property
    def km(self) -> float:
        """The same in kilometres."""
        return self.value * KM_OF[self.unit]

    def __str__(self) -> str:
        """``82400 mi``: what :func:`odometer_of` reads again."""
        return told_odometer(self.value, self.unit)


def odometer_of(text: str) -> tuple[float, str] | None:
    """The number and the unit of a reading as it is written; None where it is none.

    Args:
        text: ``82 400 mi``, ``131,452 km``, ``82400.5 miles``, ``82400``: whole or with one decimal,
            in groups of three or without, the unit (``km``, ``mi`` or its English name) last.

    Returns:
        The number, from 0 to :data:`FARTHEST`, and ``km``, ``mi``, or empty where no unit stands there.
    """
    match = _READING.fullmatch(text.strip())
    if match is None:
        return None
    whole, _, tenth, miles, kilometres = match.groups()
    value = float(f"{re.sub('[^0-9]', '', whole)}.{tenth or 0}")
    unit = "mi" if miles else "km" if kilometres else ""
    return (value, unit) if value <= FARTHEST else None


def told_odometer(value: float, unit: str) -> str:
    """The reading as it is kept: ``82400 mi``, ``82400.5 km``, ``82400`` without a unit."""
    return f"{value:.1f}".removesuffix(".0") + (f" {unit}" if unit else "")


@dataclass(frozen=True, slots=True)
class Refusal:
    """Something that could not be done to the vehicle.

    Args:
        what: ``scraping``, ``probing``, ``cleaning``, ``covers`` (taking them off) or ``lifting``.
        why: the reason in the words it was given; may be empty.
    """

    what: str
    why: str = ""


@dataclass(frozen=True, slots=True)
class Vehicle:
    """What a log knows of the vehicle; whatever is not known is empty.

    Args:
        described: what it is, in the words of whoever opened the log.
        vin: as spelled, upper case.
        vin_problem: why the VIN's check fails (49 CFR 565.15(c)); empty where it holds.
        plate: registration plate, as spelled.
        paint_code: as spelled.
        odometer: the reading.
        inspected_on: RFC 3339, when the log was opened.
        inspector: who inspected.
        stood: ``lift``, ``stands``, ``ramp``, ``pit`` or ``floor``; empty where nobody said.
        surface: of ``dirty``, ``wet``, ``iced``, ``coated``, in the order in which they were said.
        refusals: what was not allowed or not possible.
        contradictions: sentences where two sources disagree, for example two VINs.
        doubts: sentences on what was said and is not sure, for example a reading without its unit.
    """

    described: str = ""
    vin: str = ""
    vin_problem: str = ""
    plate: str = ""
    paint_code: str = ""
    odometer: Odometer | None = None
    inspected_on: str = ""
    inspector: str = ""
    stood: str = ""
    surface: tuple[str, ...] = ()
    refusals: tuple[Refusal, ...] = ()
    contradictions: tuple[str, ...] = ()
    doubts: tuple[str, ...] = ()

    @property
    def known(self) -> bool:
        """True when anything was told beside when the log was opened, and its subject."""
        told = replace(self, described="", inspected_on="", inspector="")
        return told != Vehicle() or bool(self.inspector)
