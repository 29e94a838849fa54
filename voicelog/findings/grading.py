"""Grading: one finding, the severity table, and the rules that fired."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace

from voicelog.domain.entry import Entry, Finding, Question
from voicelog.domain.grade import Grade, Rule, RuleSet
from voicelog.domain.slot import SlotValue
from voicelog.domain.zone import ZoneMap
from voicelog.errors import GrammarFault
from voicelog.findings.facts_of import FAILED, FactFinder, Facts
from voicelog.findings.landmarks import Landmarks
from voicelog.findings.when import Check, checks_of, phrases_in
from voicelog.tongue import worded


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


_KNOWN = 4096
"""Findings whose grades are kept: a map has some fifty places, and most say one of a few things."""

_Said = tuple[tuple[tuple[str, SlotValue], ...], tuple[Question, ...], str]
"""All of a finding that a grade depends on: its slots, the places asked for, the words rules look for."""

_STEADY = ("condition", "role", "zone", "probe", "unprobed")
"""Keys of few values: which rules they leave is looked up, not worked out for every finding."""


@dataclass(frozen=True, slots=True)
class _Line:
    """A rule and its checks, those on steady keys apart."""

    rule: Rule
    steady: tuple[Check, ...]
    others: tuple[Check, ...]

    def may_fit(self, facts: Facts) -> bool:
        return all(check(facts) for check in self.steady)

    def fits(self, facts: Facts) -> bool:
        return not self.others or all(check(facts) for check in self.others)


@dataclass(frozen=True, slots=True)
class _Table:
    """The lines of the severity table that the steady facts leave."""

    base: tuple[_Line, ...]
    floors: tuple[_Line, ...]
    steps: tuple[_Line, ...]


@dataclass(frozen=True, slots=True)
class Draft:
    """A computed grade at one place, with the rules that gave it.

    Args:
        facts: what the rules looked at, at that place.
        grade: what they gave.
        floored: the same before the rules that make it worse by steps.
        fired: the base rule, then those that keep it up, then those that make it worse.
        unproven: the metal itself was not reached.
        rules: ids of those that fired.
        cautions: sentences to say at this finding, each once.
    """

    facts: Facts
    grade: Grade
    floored: Grade
    fired: tuple[Rule, ...]
    unproven: bool
    rules: tuple[str, ...]
    cautions: tuple[str, ...]


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
        lines = [_line(rule, rules.limits) for rule in rules.rules]
        self._lines = _Table(
            base=tuple(line for line in lines if line.rule.grade is not None),
            floors=tuple(line for line in lines if line.rule.at_least is not None),
            steps=tuple(line for line in lines if line.rule.worsen),
        )
        self._tables: dict[tuple[str | None, str, str, str | None], _Table] = {}
        self._phrases = phrases_in(rules.rules)
        self._known: dict[_Said, Graded] = {}
        if not any(not line.rule.when for line in self._lines.base):
            raise GrammarFault(
                worded(
                    "The severity table {rules} leaves some findings without a grade",
                    rules=repr(rules.id),
                ),
                worded("Let its last rule with a grade have no conditions."),
            )

    def grade(self, entry: Entry, words: str | None = None) -> Graded:
        """Grade a finding; where its place is open, by the worst place it may be.

        Args:
            entry: the finding as it stands.
            words: its own words; those of the entry when not given.
        """
        told = (entry.text if words is None else words).lower()
        heard = told if self._phrases.search(told) else ""  # other words are like none
        said = (tuple(entry.slots.items()), entry.questions, heard)
        graded = self._known.get(said)
        if graded is None:
            if len(self._known) >= _KNOWN:
                self._known.clear()
            graded = self._known[said] = self._graded(entry, heard)
        return graded

    def _graded(self, entry: Entry, words: str) -> Graded:
        draft = self.draft(entry, words)
        spoken = _spoken(entry)
        return Graded(
            grade=_counting(draft.grade, spoken),
            computed=draft.grade,
            spoken=spoken,
            rules=draft.rules,
            unproven=draft.unproven,
            cautions=draft.cautions,
        )

    @property
    def landmarks(self) -> Landmarks:
        """The map's spoken names, and which of them may be critical mountings."""
        return self._finder.landmarks

    def draft(self, entry: Entry, words: str | None = None) -> Draft:
        """What the rules alone give, at the worst place it may be; of equals at the first.

        Args:
            entry: the finding as it stands.
            words: its own words; those of the entry when not given.
        """
        facts = self._finder.facts(entry, entry.text if words is None else words)
        drafts = [self._draft(at_one_place) for at_one_place in facts]
        if len(drafts) == 1:
            return drafts[0]
        worst = Grade.worst(*{draft.grade for draft in drafts})
        return next(draft for draft in drafts if draft.grade is worst)

    def _draft(self, facts: Facts) -> Draft:
        table = self._table(facts)
        base, floors = _base_rule(table, facts), _fitting(table.floors, facts)
        steps = _fitting(table.steps, facts)
        grade = floored = _floored(base, floors)
        if steps:
            grade = self._worsened(grade, sum(rule.worsen for rule in steps), facts)
        fired = (base, *floors, *steps)
        return Draft(
            facts,
            grade,
            floored,
            fired,
            _is_unproven(fired, facts),
            rules=tuple(rule.id for rule in fired),
            cautions=tuple(dict.fromkeys(rule.caution for rule in fired if rule.caution)),
        )

    def _worsened(self, grade: Grade, steps: int, facts: Facts) -> Grade:
        """Steps worse, but no worse than the same metal under a soft probe; never better."""
        soft = facts._replace(probe="soft")
        table = self._table(soft)
        cap = _floored(_base_rule(table, soft), _fitting(table.floors, soft))
        return Grade.worst(grade, min(grade.worse(steps), cap, key=lambda one: one.rank))

    def _table(self, facts: Facts) -> _Table:
        key = (facts.condition, facts.role, facts.zone, facts.probe)
        table = self._tables.get(key)
        if table is None:
            table = self._tables[key] = _Table(
                base=tuple(line for line in self._lines.base if line.may_fit(facts)),
                floors=tuple(line for line in self._lines.floors if line.may_fit(facts)),
                steps=tuple(line for line in self._lines.steps if line.may_fit(facts)),
            )
        return table


def as_read(finding: Finding) -> Entry:
    """The entry as the rules read it: its wall loss not rounded yet."""
    if finding.loss_percent is None:
        return finding.entry
    slots = {**finding.entry.slots, "loss_percent": finding.loss_percent}
    return replace(finding.entry, slots=slots)


def worst_said(finding: Finding) -> Grade | None:
    """The worse of what the rules gave and what the inspector said; None for ungraded entries."""
    grades = (finding.grade, finding.computed_grade, finding.spoken_grade)
    known = [grade for grade in grades if grade is not None]
    return Grade.worst(*known) if known else None


def _line(rule: Rule, limits: Mapping[str, float]) -> _Line:
    checks = checks_of(rule, limits)
    steady = tuple(check for key, check in checks.items() if key in _STEADY)
    others = tuple(check for key, check in checks.items() if key not in _STEADY)
    return _Line(rule, steady, others)


def _base_rule(table: _Table, facts: Facts) -> Rule:
    return next(line.rule for line in table.base if line.fits(facts))


def _fitting(lines: Iterable[_Line], facts: Facts) -> list[Rule]:
    return [line.rule for line in lines if line.fits(facts)]


def _floored(base: Rule, floors: Iterable[Rule]) -> Grade:
    """The base rule's grade, kept from staying below any of the floors."""
    grades = (base.grade, *(rule.at_least for rule in floors))
    return Grade.worst(*(grade for grade in grades if grade is not None))


def _is_unproven(fired: Iterable[Rule], facts: Facts) -> bool:
    """True when a rule that fired says so and no probe gave way, which is proof enough."""
    if facts.probe in FAILED:
        return False
    firm = facts.probe == "firm"
    return any(r.unproven == "yes" or (r.unproven == "unless-firm" and not firm) for r in fired)


def _spoken(entry: Entry) -> Grade | None:
    return _GRADES.get(entry.slots.get("spoken_grade"))


_GRADES: Mapping[object, Grade] = {str(grade): grade for grade in Grade}


def _counting(computed: Grade, spoken: Grade | None) -> Grade:
    """The inspector's word counts, except that it never lowers *unsafe*."""
    return computed if spoken is None or computed is Grade.UNSAFE else spoken
