"""Which work rules and pointers fit a finding, or a place that is open."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import Generic, Protocol, TypeVar

from voicelog.domain.entry import Entry, Finding, Kind
from voicelog.domain.grade import Grade
from voicelog.domain.zone import ZoneMap
from voicelog.errors import GrammarFault
from voicelog.findings.facts_of import FactFinder, Facts, is_rot, known_zone
from voicelog.findings.grading import worst_said
from voicelog.findings.when import Check, checks_of
from voicelog.tongue import to_word, worded

OWN_KEYS: Mapping[str, str] = {
    "grade": to_word("list: its grade, or the inspector's where that is worse"),
    "unproven": to_word("true: the metal itself was not reached"),
    "rot": to_word("true: metal is gone or gives way"),
    "routine": to_word("true: its zone is renewed as a matter of routine"),
    "open": to_word("list: what is open at a place"),
}
"""Every key that work and pointers may ask for beside those of the severity rules."""


@dataclass(frozen=True, slots=True)
class Case:
    """A finding or an open place, as work rules and pointers see it.

    Args:
        places: its facts, one for every zone it may be about.
        grade: the worse of its computed and its spoken grade; None for a place.
        unproven: the metal itself was not reached.
        rot: metal is gone or gives way.
        routine: its zone is renewed as a matter of routine.
        open: what is open at a place; empty for a finding.
    """

    places: tuple[Facts, ...]
    grade: Grade | None = None
    unproven: bool = False
    rot: bool = False
    routine: bool = False
    open: str = ""


class Cases:
    """Makes cases on one map, under one table's limits."""

    def __init__(self, zone_map: ZoneMap, limits: Mapping[str, float]) -> None:
        self._zone_map, self._limits = zone_map, limits
        self._finder = FactFinder(zone_map, limits)

    def of_finding(self, finding: Finding) -> Case:
        """A graded finding as it stands."""
        entry = finding.entry
        zone = known_zone(entry.slots, self._zone_map)
        return Case(
            places=self._finder.facts(entry, finding.words),
            grade=worst_said(finding),
            unproven=finding.unproven,
            rot=is_rot(entry.slots, zone, self._limits),
            routine=zone is not None and zone.routine,
        )

    def of_place(self, zone: str, side: str | None, left_open: str) -> Case:
        """A place at which something is open."""
        slots = {"zone": zone} | ({"side": side} if side else {})
        nothing = Entry(id="", utterance="", at="", kind=Kind.NOT_SEEN, slots=slots)
        return Case(self._finder.facts(nothing, ""), open=left_open)


class Advice(Protocol):
    """A work rule or a pointer: something that asks for a case."""

    @property
    def when(self) -> Mapping[str, object]:
        """What it asks for."""


AdviceT = TypeVar("AdviceT", bound=Advice)


@dataclass(frozen=True, slots=True)
class _Asking:
    """The part of a ``when`` that severity rules may ask for as well."""

    id: str
    when: Mapping[str, object]


@dataclass(frozen=True, slots=True)
class _Line(Generic[AdviceT]):
    """Advice and its checks."""

    advice: AdviceT
    own: tuple[Callable[[Case], bool], ...]
    checks: tuple[Check, ...]

    def fits(self, case: Case) -> bool:
        """All keys fit; where several places are open, at one of them."""
        if not all(check(case) for check in self.own):
            return False
        return any(all(check(facts) for check in self.checks) for facts in case.places)


class Table(Generic[AdviceT]):
    """Advice ready to be tried on cases, in its order.

    Args:
        rows: name for messages, and the advice.
        limits: the severity table's numbers.

    Raises:
        GrammarFault: a key nobody knows, a limit without a number, a value of the wrong kind.
    """

    def __init__(self, rows: Iterable[tuple[str, AdviceT]], limits: Mapping[str, float]) -> None:
        self._lines = tuple(_line(name, advice, limits) for name, advice in rows)

    def fitting(self, case: Case) -> Iterator[AdviceT]:
        """All advice that fits, in its order."""
        return (line.advice for line in self._lines if line.fits(case))


def _line(name: str, advice: AdviceT, limits: Mapping[str, float]) -> _Line[AdviceT]:
    own = {key: value for key, value in advice.when.items() if key in OWN_KEYS}
    rest = {key: value for key, value in advice.when.items() if key not in OWN_KEYS}
    checks = checks_of(_Asking(name, rest), limits)
    tried = tuple(_own_check(name, key, value) for key, value in own.items())
    return _Line(advice, (_is_for(own), *tried), tuple(checks.values()))


def _is_for(own: Mapping[str, object]) -> Callable[[Case], bool]:
    """Advice that names what is open is for places, all other for findings."""
    return lambda case: bool(case.open) is ("open" in own)


def _own_check(name: str, key: str, value: object) -> Callable[[Case], bool]:
    if key in ("unproven", "rot", "routine") and isinstance(value, bool):
        return lambda case: getattr(case, key) is value
    if key in ("grade", "open") and isinstance(value, tuple | list):
        wanted = frozenset(value)
        return lambda case: getattr(case, key) in wanted
    raise GrammarFault(
        worded(
            "The advice {name} asks for {key} = {value}, which cannot be tested",
            name=repr(name),
            key=key,
            value=repr(value),
        ),
        worded(
            "Correct it in its file ({key}: {meaning}).", key=key, meaning=worded(OWN_KEYS[key])
        ),
    )
