"""The vehicle as lines of text, and as JSON."""

from __future__ import annotations

from collections.abc import Iterator

from voicelog.domain.inert import inert
from voicelog.domain.vehicle import IN_WORDS, Odometer, Refusal, Vehicle
from voicelog.tongue import worded

_LONGEST = 120


def vehicle_lines(vehicle: Vehicle) -> Iterator[str]:
    """What is known of it, one thing a line; then what two sources do not agree about, and doubts."""
    for name, text in _known(vehicle):
        if text:
            yield f"{name + ':':<12} {inert(text, 2 * _LONGEST)}"
    for refusal in vehicle.refusals:
        yield f"{'Refused:':<12} {_refusal(refusal)}"
    yield from (inert(line) for line in (*vehicle.contradictions, *vehicle.doubts))


def _known(vehicle: Vehicle) -> Iterator[tuple[str, str]]:
    yield worded("Vehicle"), vehicle.described
    problem = (
        (" " + worded("(does not check: {vin_problem})", vin_problem=vehicle.vin_problem))
        if vehicle.vin_problem
        else ""
    )
    yield worded("VIN"), f"{vehicle.vin[:_LONGEST]}{problem}" if vehicle.vin else ""
    yield worded("Plate"), vehicle.plate
    yield worded("Paint code"), vehicle.paint_code
    yield worded("Odometer"), odometer_in_words(vehicle.odometer)
    yield worded("Inspector"), vehicle.inspector
    yield worded("It stood"), IN_WORDS.get(vehicle.stood, "")
    yield worded("Surface"), ", ".join(vehicle.surface)


def odometer_in_words(reading: Odometer | None) -> str:
    """``82 400 mi (132 610 km)``; empty where there is none."""
    if reading is None:
        return ""
    told = f"{_grouped(reading.value)} {reading.unit}"
    return (
        told
        if reading.unit == "km"
        else worded("{told} ({grouped} km)", told=told, grouped=_grouped(round(reading.km)))
    )


def _grouped(value: float) -> str:
    return f"{value:,.1f}".removesuffix(".0").replace(",", " ")


def _refusal(refusal: Refusal) -> str:
    why = f" (“{inert(refusal.why, _LONGEST)}”)" if refusal.why else ""
    return f"{IN_WORDS.get(refusal.what, inert(refusal.what))}{why}"
