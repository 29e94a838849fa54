"""The lines of a log that tell of the vehicle, checked: the one that opened it, and later ones."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from voicelog.domain.fact import Fact
from voicelog.domain.vehicle import FARTHEST, KM_OF, VEHICLE, Refusal, told_odometer
from voicelog.errors import LogFault
from voicelog.tongue import to_word, worded

TEXTS = ("described", "vin", "plate", "paint_code", "stood", "inspector")
"""What is told in words."""


@dataclass(frozen=True, slots=True)
class Telling:
    """What one source tells at one point of a log.

    Args:
        line: the number of the line.
        source: ``at the start``, ``said`` or ``noted later``.
        texts: by their names, the odometer as it is kept; empty takes back.
        surface: what lies over the metal; None where it is not told.
        refusals: what could not be done; None where it is not told.
    """

    line: int
    source: str
    texts: Mapping[str, str]
    surface: Sequence[str] | None = None
    refusals: Sequence[Refusal] | None = None


def noted(facts: Iterable[Fact]) -> Iterator[Telling]:
    """What the lines themselves tell, in order.

    Raises:
        LogFault: one of them cannot be read.
    """
    for fact in facts:
        if fact.type == "opened" and VEHICLE in fact.body:
            yield _telling(fact, fact.body[VEHICLE], to_word("at the start"))
        elif fact.type == VEHICLE:
            yield _telling(fact, fact.body.get("set"), to_word("noted later"))


def _telling(fact: Fact, told: Any, source: str) -> Telling:
    if not isinstance(told, Mapping):
        raise _unreadable(fact, "set")
    texts = {name: told[name] for name in TEXTS if name in told}
    for name, text in texts.items():
        if not isinstance(text, str):
            raise _unreadable(fact, name)
    if "odometer" in told:
        texts["odometer"] = _odometer(fact, told["odometer"])
    surface, refusals = told.get("surface"), told.get("refusals")
    if surface is not None and not _all(surface, str):
        raise _unreadable(fact, "surface")
    if refusals is not None and not (_all(refusals, Mapping) and all(map(_fits, refusals))):
        raise _unreadable(fact, "refusals")
    given = None if refusals is None else [Refusal(r["what"], r.get("why", "")) for r in refusals]
    return Telling(fact.seq, source, texts, surface, given)


def _odometer(fact: Fact, told: Any) -> str:
    """The reading as it is kept; empty where it is taken back."""
    if told is None:
        return ""
    reading: Mapping[str, Any] = told if isinstance(told, Mapping) else {}
    value: Any = reading.get("value")
    unit = reading.get("unit")
    number = type(value) in (int, float) and 0 <= value <= FARTHEST
    if not (number and isinstance(unit, str) and unit in KM_OF):
        raise _unreadable(fact, "odometer")
    return told_odometer(value, unit)


def _all(values: Any, kind: type) -> bool:
    return isinstance(values, list | tuple) and all(isinstance(value, kind) for value in values)


def _fits(refusal: Mapping[str, Any]) -> bool:
    return isinstance(refusal.get("what"), str) and isinstance(refusal.get("why", ""), str)


def _unreadable(fact: Fact, what: str) -> LogFault:
    return LogFault(
        worded(
            "Line {seq} of the journal tells of the vehicle, and its {key} cannot be read",
            seq=fact.seq,
            key=repr(what),
        ),
        worded("Run voicelog verify on the log's folder."),
    )
