"""The severity table: the shape of ``rules/frame.toml``."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import ClassVar, Literal

from pydantic import Field

from voicelog.config.document import Sheet, Table
from voicelog.config.positions import Loc
from voicelog.config.when import GradeName, When, asked, limit_faults
from voicelog.config.work_rules import WorkTable, work_faults, work_rule
from voicelog.domain.grade import Grade, Rule, RuleSet
from voicelog.tongue import worded


class RuleTable(Table):
    """One rule. It has exactly one of grade, at_least and worsen."""

    id: str = Field(description="short name, printed with every grade it gave", min_length=1)
    text: str = Field(description="the rule in a plain sentence", min_length=1)
    source: str = Field(
        description="where it comes from, or: common practice, no source", min_length=1
    )
    when: When = Field(default_factory=When, description="what it asks for; empty fits everything")
    grade: GradeName | None = Field(
        default=None, description="base rule: the grade it gives; the first that fits counts"
    )
    at_least: GradeName | None = Field(
        default=None, description="the grade a finding that fits never stays below"
    )
    worsen: int = Field(default=0, description="so many grades worse", ge=0, le=3)
    unproven: Literal["yes", "no", "unless-firm"] = Field(
        default="no", description="whether the metal itself was not reached: yes, no, unless-firm"
    )
    caution: str = Field(default="", description="a sentence to say at the finding")


class RulesFile(Sheet):
    """A severity table."""

    blank: ClassVar[Mapping[str, object]] = {"id": "unknown"}

    id: str = Field(description="the table's name", min_length=1)
    cautions: list[str] = Field(default=[], description="sentences said at the start")
    limits: dict[str, float] = Field(default={}, description="the shop's own numbers by name")
    rule: list[RuleTable] = Field(default=[], description="the rules, tried from the top")
    work: list[WorkTable] = Field(
        default=[], description="what is done about findings and open places, tried from the top"
    )
    caution: dict[str, str] = Field(
        default={}, description="what to heed while working: sentences by the names `[[work]]` uses"
    )
    work_cautions: list[str] = Field(
        default=[], description="sentences that stand with every list of work"
    )


def rules_faults(sheet: RulesFile) -> Iterator[tuple[Loc, str]]:
    """What is wrong across rules."""
    seen: set[str] = set()
    for number, rule in enumerate(sheet.rule):
        if rule.id in seen:
            yield (
                ("rule", number, "id"),
                worded("a rule {rule} is already there", rule=repr(rule.id)),
            )
        seen.add(rule.id)
        for loc, message in _rule_faults(rule, sheet.limits):
            yield ("rule", number, *loc), message
    yield from _catch_all_faults(sheet)
    yield from work_faults(sheet.work, sheet.limits, sheet.caution)


def _rule_faults(rule: RuleTable, limits: dict[str, float]) -> Iterator[tuple[Loc, str]]:
    """Not exactly one effect, or a limit that has no number."""
    effects = [rule.grade is not None, rule.at_least is not None, rule.worsen > 0]
    if sum(effects) != 1:
        yield (), worded("must have exactly one of {keys}", keys="grade, at_least, worsen")
    yield from limit_faults(rule.when, limits)


def _catch_all_faults(sheet: RulesFile) -> Iterator[tuple[Loc, str]]:
    """A table whose last base rule does not fit everything leaves findings without a grade."""
    base = [(number, rule) for number, rule in enumerate(sheet.rule) if rule.grade is not None]
    if not base:
        yield (
            ("rule",),
            worded("there is no base rule: one with a grade and an empty when must come last"),
        )
    for number, rule in base:
        fits_all = not rule.when.model_dump(exclude_none=True)
        last = number == base[-1][0]
        if last and not fits_all:
            yield (
                ("rule", number, "when"),
                worded("the last rule with a grade must have an empty when"),
            )
        if fits_all and not last:
            yield (
                ("rule", number),
                worded("fits everything, so no rule with a grade below is ever tried"),
            )


def build_rules(sheet: RulesFile) -> RuleSet:
    """The severity table as the rest of the program sees it."""
    return RuleSet(
        id=sheet.id,
        rules=tuple(map(_rule, sheet.rule)),
        limits=dict(sheet.limits),
        cautions=tuple(sheet.cautions),
        work=tuple(work_rule(row, sheet.caution) for row in sheet.work),
        work_cautions=tuple(sheet.work_cautions),
    )


def _rule(row: RuleTable) -> Rule:
    """One rule as the rest of the program sees it."""
    return Rule(
        id=row.id,
        text=row.text,
        source=row.source,
        when=asked(row.when),
        grade=Grade(row.grade) if row.grade else None,
        at_least=Grade(row.at_least) if row.at_least else None,
        worsen=row.worsen,
        unproven=row.unproven,
        caution=row.caution,
    )
