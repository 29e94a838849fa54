"""The severity table: the shape of ``rules/frame.toml``."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Annotated, ClassVar, Literal

from pydantic import Field

from voicelog.config.document import Sheet, Table
from voicelog.config.positions import Loc
from voicelog.config.shape import OneOf, unknown
from voicelog.domain.grade import Grade, Rule, RuleSet
from voicelog.domain.slot import (
    CERTAINTIES,
    CONDITIONS,
    LAYERS,
    METHODS,
    PARTS,
    PROBES,
    SIDES,
    SURROUNDS,
)
from voicelog.domain.zone import Role

Limit = float | str
"""A number, or the name of one of the file's limits."""

GradeName = Annotated[str, OneOf(tuple(Grade), "grade")]


class When(Table):
    """What a rule asks for. All keys given must fit; of a list, one value is enough."""

    condition: list[Annotated[str, OneOf(CONDITIONS, "condition")]] | None = Field(
        default=None, description="the finding's condition"
    )
    role: list[Annotated[str, OneOf(tuple(Role), "role")]] | None = Field(
        default=None, description="the role of its zone"
    )
    zone: list[str] | None = Field(
        default=None, description="its zone; a zone that the map lacks never fits"
    )
    side: list[Annotated[str, OneOf(SIDES, "side")]] | None = Field(
        default=None, description="the side"
    )
    part: list[Annotated[str, OneOf(PARTS, "part")]] | None = Field(
        default=None, description="the part of the member"
    )
    layer: list[Annotated[str, OneOf(LAYERS, "layer")]] | None = Field(
        default=None, description="coating or metal"
    )
    probe: list[Annotated[str, OneOf(PROBES, "probe result")]] | None = Field(
        default=None, description="what the probe did"
    )
    unprobed: bool | None = Field(default=None, description="true: no probe result was said")
    method: list[Annotated[str, OneOf(METHODS, "method")]] | None = Field(
        default=None, description="the strongest method said"
    )
    surround: list[Annotated[str, OneOf(SURROUNDS, "surround")]] | None = Field(
        default=None, description="whether solid metal is left around it"
    )
    certainty: list[Annotated[str, OneOf(CERTAINTIES, "certainty")]] | None = Field(
        default=None, description="stated or tentative"
    )
    near_mount: bool | None = Field(
        default=None, description="true: at a critical mounting, or within the limit of one"
    )
    distance_known: bool | None = Field(
        default=None, description="true: a distance to a mounting was said; false: none was"
    )
    loss_known: bool | None = Field(default=None, description="true: a wall loss is known")
    loss_at_least: Limit | None = Field(
        default=None, description="wall loss in percent, this or more: a number or a limit's name"
    )
    loss_below: Limit | None = Field(
        default=None, description="wall loss in percent, less than this: a number or a limit's name"
    )
    size_at_least: Limit | None = Field(
        default=None, description="size_mm, this or more: a number or a limit's name"
    )
    landmark_words: list[str] | None = Field(
        default=None, description="words, one of which the landmark holds"
    )
    said: list[str] | None = Field(
        default=None,
        description="phrases, one of which stands, not negated, among the finding's own words; "
        "not used once the condition was corrected",
    )


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


def rules_faults(sheet: RulesFile) -> Iterator[tuple[Loc, str]]:
    """What is wrong across rules."""
    seen: set[str] = set()
    for number, rule in enumerate(sheet.rule):
        if rule.id in seen:
            yield ("rule", number, "id"), f"a rule {rule.id!r} is already there"
        seen.add(rule.id)
        for loc, message in _rule_faults(rule, sheet.limits):
            yield ("rule", number, *loc), message
    yield from _catch_all_faults(sheet)


def _rule_faults(rule: RuleTable, limits: dict[str, float]) -> Iterator[tuple[Loc, str]]:
    """Not exactly one effect, or a limit that has no number."""
    effects = [rule.grade is not None, rule.at_least is not None, rule.worsen > 0]
    if sum(effects) != 1:
        yield (), "must have exactly one of grade, at_least, worsen"
    for key in ("loss_at_least", "loss_below", "size_at_least"):
        limit = getattr(rule.when, key)
        if isinstance(limit, str) and limit not in limits:
            yield ("when", key), unknown(limit, limits, "name under [limits]")


def _catch_all_faults(sheet: RulesFile) -> Iterator[tuple[Loc, str]]:
    """A table whose last base rule does not fit everything leaves findings without a grade."""
    base = [(number, rule) for number, rule in enumerate(sheet.rule) if rule.grade is not None]
    if not base:
        yield ("rule",), "there is no base rule: one with a grade and an empty when must come last"
    for number, rule in base:
        fits_all = not rule.when.model_dump(exclude_none=True)
        last = number == base[-1][0]
        if last and not fits_all:
            yield ("rule", number, "when"), "the last rule with a grade must have an empty when"
        if fits_all and not last:
            yield ("rule", number), "fits everything, so no rule with a grade below is ever tried"


def build_rules(sheet: RulesFile) -> RuleSet:
    """The severity table as the rest of the program sees it."""
    rules = tuple(_rule(row) for row in sheet.rule)
    return RuleSet(sheet.id, rules, dict(sheet.limits), tuple(sheet.cautions))


def _rule(row: RuleTable) -> Rule:
    """One rule as the rest of the program sees it; lists become tuples."""
    asked = row.when.model_dump(exclude_none=True)
    when = {key: tuple(v) if isinstance(v, list) else v for key, v in asked.items()}
    return Rule(
        id=row.id,
        text=row.text,
        source=row.source,
        when=when,
        grade=Grade(row.grade) if row.grade else None,
        at_least=Grade(row.at_least) if row.at_least else None,
        worsen=row.worsen,
        unproven=row.unproven,
        caution=row.caution,
    )
