"""The shipped map and severity table, and short ways to make entries."""

from __future__ import annotations

from collections.abc import Callable
from itertools import count
from typing import Any

import pytest

from voicelog.config.grammar import Grammar, load_grammar
from voicelog.domain.entry import Add, Entry, Inspection, Kind
from voicelog.domain.grade import RuleSet, Verdict
from voicelog.domain.zone import Rails, ZoneMap
from voicelog.findings.grading import Graded, Grader
from voicelog.findings.ledger import Ledger

MakeEntry = Callable[..., Entry]


@pytest.fixture(scope="session")
def grammar() -> Grammar:
    """What a person gets who edits nothing."""
    return load_grammar()


@pytest.fixture(scope="session")
def zone_map(grammar: Grammar) -> ZoneMap:
    """The ladder frame."""
    return grammar.zone_map


@pytest.fixture(scope="session")
def rules(grammar: Grammar) -> RuleSet:
    """The shipped severity table."""
    return grammar.rules


@pytest.fixture(scope="session")
def grader(zone_map: ZoneMap, rules: RuleSet) -> Grader:
    """A grader over the shipped table."""
    return Grader(zone_map, rules)


@pytest.fixture
def make() -> MakeEntry:
    """Makes entries with running ids e1.1, e2.1, …; keyword arguments are slots."""
    numbers = count(1)

    def make_entry(kind: Kind = Kind.FINDING, /, **given: Any) -> Entry:
        n = next(numbers)
        own = {name: given.pop(name) for name in _FIELDS & given.keys()}
        at = f"2026-01-05T08:00:{n % 60:02}Z"
        return Entry(id=f"e{n}.1", utterance=f"u{n}", at=at, kind=kind, slots=given, **own)

    return make_entry


_FIELDS = {"text", "doubts", "reason", "questions", "absent", "unplaced", "place_assumed"}


@pytest.fixture
def grade(grader: Grader, make: MakeEntry) -> Callable[..., Graded]:
    """Grades a finding with the slots given."""

    def grade_slots(**given: Any) -> Graded:
        return grader.grade(make(**given))

    return grade_slots


@pytest.fixture
def read(grade: Callable[..., Graded]) -> Callable[..., Graded]:
    """Grades a finding in short form: zone, condition (or -), then slot=value; more as keywords."""

    def grade_text(finding: str, /, **more: Any) -> Graded:
        zone, condition, *rest = finding.split()
        slots: dict[str, Any] = dict(part.split("=") for part in rest)
        numbers = {n: float(v) for n, v in slots.items() if n.endswith(("_mm", "percent"))}
        named = {} if condition == "-" else {"condition": condition}
        return grade(**{"zone": zone, **named, **slots, **numbers, **more})

    return grade_text


@pytest.fixture
def inspect(zone_map: ZoneMap, rules: RuleSet) -> Callable[..., Inspection]:
    """Folds entries, in order, into an inspection."""

    def inspect_entries(*entries: Entry, rails: Rails = Rails.OPEN) -> Inspection:
        ledger = Ledger(zone_map, rules, rails)
        ledger.apply(Add(entry) for entry in entries)
        return ledger.inspection()

    return inspect_entries


@pytest.fixture
def thorough(zone_map: ZoneMap, make: MakeEntry) -> Callable[..., list[Entry]]:
    """Clears for every place of the map, probed firm, and one for the inside of every cavity."""

    def all_clear(*, without: tuple[str, ...] = ()) -> list[Entry]:
        entries = []
        for zone in zone_map.zones.values():
            if zone.id in without:
                continue
            paired = {"side": "both"} if len(zone.sides()) == 2 else {}
            slots = {"zone": zone.id, "probe": "firm", "method": "probed", **paired}
            entries.append(make(Kind.CLEAR, **slots))
            if zone.hides_cavity(Rails.OPEN):
                entries.append(make(Kind.CLEAR, **slots, face="interior"))
        return entries

    return all_clear


@pytest.fixture
def verdict(
    inspect: Callable[..., Inspection], make: Any, thorough: Callable[..., list[Entry]]
) -> Callable[..., Verdict]:
    """The verdict over a thoroughly examined frame with these findings."""

    def over(*findings: dict[str, Any], rails: Rails = Rails.OPEN) -> Verdict:
        made = [make(**slots) for slots in findings]
        return inspect(*thorough(), *made, rails=rails).verdict

    return over
