"""Grading: one finding, the severity table, and the rules that fired."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace

from voicelog.domain.entry import Entry, Finding
from voicelog.domain.grade import Grade, Rule, RuleSet
from voicelog.domain.zone import ZoneMap
from voicelog.errors import GrammarFault
from voicelog.findings.facts_of import FAILED, FactFinder, Facts
from voicelog.findings.when import Test, tests_of


@dataclass(frozen=True, slots=True)
class Graded:
    """What the table says of a finding.

    Args:
        grade: the one that counts: the inspector's where there is one, but *unsafe* stands.
        computed: what the rules gave.
        spoken: what the inspector called it.
        rules: ids of the rules that fired, the base rule first.
        unproven: the metal itself was not reached.
        cautions: sentences to say at this finding, each once.
    """

    grade: Grade
    computed: Grade
    spoken: Grade | None
    rules: tuple[str, ...]
    unproven: bool
    cautions: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class _Line:
    """A rule and its tests."""

    rule: Rule
    tests: tuple[Test, ...]

    def fits(self, facts: Facts) -> bool:
        return all(test(facts) for test in self.tests)


@dataclass(frozen=True, slots=True)
class _Draft:
    """A computed grade at one place, with the rules that gave it."""

    grade: Grade
    fired: tuple[Rule, ...]
    unproven: bool


class Grader:
    """Grades findings on one map by one severity table.

    Args:
        zone_map: the places.
        rules: the table; a base rule that fits everything must be among its rules.

    Raises:
        GrammarFault: the table leaves some finding without a grade, or a rule cannot be tested.
    """

    def __init__(self, zone_map: ZoneMap, rules: RuleSet) -> None:
        self._finder = FactFinder(zone_map, rules.limits)
        lines = [_Line(rule, tests_of(rule, rules.limits)) for rule in rules.rules]
        self._base = [line for line in lines if line.rule.grade is not None]
        self._floors = [line for line in lines if line.rule.at_least is not None]
        self._steps = [line for line in lines if line.rule.worsen]
        self._by_condition: dict[str | None, list[_Line]] = {}
        if not any(not line.rule.when for line in self._base):
            raise GrammarFault(
                f"The severity table {rules.id!r} leaves some findings without a grade",
                "Let its last rule with a grade have no conditions.",
            )

    def grade(self, entry: Entry, words: str | None = None) -> Graded:
        """Grade a finding; where its place is open, by the worst place it may be.

        Args:
            entry: the finding as it stands.
            words: its own words; those of the entry when not given.
        """
        facts = self._finder.facts(entry, entry.text if words is None else words)
        draft = max(map(self._draft, facts), key=lambda draft: draft.grade.rank)
        spoken = _spoken(entry)
        return Graded(
            grade=_counting(draft.grade, spoken),
            computed=draft.grade,
            spoken=spoken,
            rules=tuple(rule.id for rule in draft.fired),
            unproven=draft.unproven,
            cautions=tuple(dict.fromkeys(rule.caution for rule in draft.fired if rule.caution)),
        )

    def _draft(self, facts: Facts) -> _Draft:
        base, floors = self._base_rule(facts), self._fitting(self._floors, facts)
        steps = self._fitting(self._steps, facts)
        grade = _floored(base, floors)
        if steps:
            grade = self._worsened(grade, sum(rule.worsen for rule in steps), facts)
        fired = (base, *floors, *steps)
        return _Draft(grade, fired, _is_unproven(fired, facts))

    def _worsened(self, grade: Grade, steps: int, facts: Facts) -> Grade:
        """Steps worse, but no worse than the same metal under a soft probe; never better."""
        soft = replace(facts, probe="soft")
        cap = _floored(self._base_rule(soft), self._fitting(self._floors, soft))
        return Grade.worst(grade, min(grade.worse(steps), cap, key=lambda one: one.rank))

    def _base_rule(self, facts: Facts) -> Rule:
        lines = self._by_condition.get(facts.condition)
        if lines is None:
            lines = [line for line in self._base if _may_fit(line.rule, facts.condition)]
            self._by_condition[facts.condition] = lines
        return next(line.rule for line in lines if line.fits(facts))

    @staticmethod
    def _fitting(lines: Iterable[_Line], facts: Facts) -> list[Rule]:
        return [line.rule for line in lines if line.fits(facts)]


def worst_said(finding: Finding) -> Grade | None:
    """The worse of what the rules gave and what the inspector said; None for ungraded entries."""
    grades = (finding.grade, finding.computed_grade, finding.spoken_grade)
    known = [grade for grade in grades if grade is not None]
    return Grade.worst(*known) if known else None


def _may_fit(rule: Rule, condition: str | None) -> bool:
    """False when the rule asks for other conditions, so that it need not be tried again."""
    wanted = rule.when.get("condition")
    listed = (wanted,) if isinstance(wanted, str) else wanted
    return not isinstance(listed, list | tuple) or condition in listed


def _floored(base: Rule, floors: Iterable[Rule]) -> Grade:
    grades = [base.grade, *(rule.at_least for rule in floors)]
    return Grade.worst(*(grade for grade in grades if grade is not None))


def _is_unproven(fired: Iterable[Rule], facts: Facts) -> bool:
    """True when a rule that fired says so and no probe gave way, which is proof enough."""
    if facts.probe in FAILED:
        return False
    firm = facts.probe == "firm"
    return any(r.unproven == "yes" or (r.unproven == "unless-firm" and not firm) for r in fired)


def _spoken(entry: Entry) -> Grade | None:
    said = entry.slots.get("spoken_grade")
    return Grade(said) if said in tuple(Grade) else None


def _counting(computed: Grade, spoken: Grade | None) -> Grade:
    """The inspector's word counts, except that it never lowers *unsafe*."""
    return computed if spoken is None or computed is Grade.UNSAFE else spoken
