"""The vehicle: who it is, when and by whom it was inspected, how it stood, what was not possible."""

from __future__ import annotations

from collections.abc import Iterator

from voicelog.domain.report import Row
from voicelog.domain.vehicle import IN_WORDS, Odometer, Refusal, Vehicle
from voicelog.report.material import Book
from voicelog.report.wording import grouped, in_local_time, quoted, short
from voicelog.tongue import to_word, worded

NOT_SAID = to_word("not said")
_LONGEST = 80
"""Characters of one value: page one has no room for more."""


def title(book: Book) -> str:
    """The report's title, with what the vehicle was called when the log was opened."""
    named = book.material.vehicle.described or str(book.opened.get("subject") or "")
    return (
        worded("Frame inspection: {short}", short=short(named, _LONGEST))
        if named
        else worded("Frame inspection")
    )


def vehicle_rows(book: Book) -> tuple[Row, ...]:
    """Identity, date and inspector; what nobody told is one row."""
    told = dict(_identity(book))
    known = [Row(label, short(value, _LONGEST)) for label, value in told.items() if value]
    missing = [label for label in map(worded, _WANTED) if not told[label]]
    untold = [Row(worded("Not told"), ", ".join(missing))] if missing else []
    return (*known, *untold, *_problems(book.material.vehicle))


_WANTED = (to_word("VIN"), to_word("Plate"), to_word("Odometer"), to_word("Inspector"))
"""What a buyer would ask for."""
_PROBLEMS = 3
"""Sentences on what does not agree or is not sure that page one has room for."""


def _identity(book: Book) -> Iterator[tuple[str, str]]:
    vehicle = book.material.vehicle
    yield worded("Vehicle"), vehicle.described
    yield worded("VIN"), _vin(vehicle)
    yield worded("Plate"), vehicle.plate
    yield worded("Paint code"), vehicle.paint_code
    yield worded("Odometer"), _odometer(vehicle.odometer)
    at = vehicle.inspected_on or str(book.opened.get("created") or book.opened.get("at") or "")
    yield worded("Inspected"), in_local_time(at, book.opened) if at else ""
    yield worded("Inspector"), vehicle.inspector


def _problems(vehicle: Vehicle) -> Iterator[Row]:
    """What does not agree, then what is not sure."""
    told = [
        *(Row(worded("Does not agree"), short(line, _LONGEST)) for line in vehicle.contradictions),
        *(Row(worded("Not sure"), short(line, _LONGEST)) for line in vehicle.doubts),
    ]
    yield from told[:_PROBLEMS]
    if len(told) > _PROBLEMS:
        yield Row(worded("And"), worded("{count} more of these", count=len(told) - _PROBLEMS))


def _vin(vehicle: Vehicle) -> str:
    return (
        worded("{vin} (check it: {vin_problem})", vin=vehicle.vin, vin_problem=vehicle.vin_problem)
        if vehicle.vin_problem
        else vehicle.vin
    )


def _odometer(odometer: Odometer | None) -> str:
    if odometer is None:
        return ""
    if odometer.unit == "km":
        return worded("{km} km", km=grouped(odometer.value))
    return worded(
        "{miles} miles ({km} km)",
        miles=grouped(odometer.value),
        km=grouped(round(odometer.km)),
    )


def condition_rows(book: Book) -> tuple[Row, ...]:
    """How it stood, what lay over the metal, and what was refused."""
    vehicle = book.material.vehicle
    stood = IN_WORDS.get(vehicle.stood, vehicle.stood)
    refused = [_refusal(refusal) for refusal in vehicle.refusals]
    return (
        Row(worded("It stood"), stood or worded(NOT_SAID)),
        Row(worded("Its underside"), ", ".join(vehicle.surface) or worded(NOT_SAID)),
        Row(
            worded("Not allowed or not possible"),
            short("; ".join(refused), 120) or worded("nothing was said"),
        ),
    )


def _refusal(refusal: Refusal) -> str:
    why = f" ({quoted(short(refusal.why, 60))})" if refusal.why else ""
    return f"{IN_WORDS.get(refusal.what, refusal.what)}{why}"
