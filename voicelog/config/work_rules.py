"""What is done about findings: the shape of ``[[work]]`` in the rule file."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Annotated

from pydantic import Field

from voicelog.config.document import Table
from voicelog.config.positions import Loc
from voicelog.config.shape import OneOf, unknown
from voicelog.config.when import WorkWhen, asked, limit_faults
from voicelog.domain.advice import URGENCIES
from voicelog.domain.grade import WorkRule
from voicelog.tongue import to_word, worded

Sentence = Annotated[str, Field(min_length=1)]


class WorkTable(Table):
    """What to do about a finding, or about a place that is open."""

    id: str = Field(description="short name", min_length=1)
    steps: list[Sentence] = Field(description="what to do, in order, a sentence each", min_length=1)
    source: str = Field(
        description="where it comes from, or: common practice, no source", min_length=1
    )
    when: WorkWhen = Field(
        default_factory=WorkWhen, description="what it asks for; empty fits every finding"
    )
    prove: list[Sentence] = Field(
        default=[], description="steps that come first while the metal has not been reached"
    )
    urgency: Annotated[str, OneOf(URGENCIES, to_word("urgency"))] | None = Field(
        default=None, description="how soon, where that is sooner than the grade says"
    )
    cautions: list[str] = Field(
        default=[], description="what to heed while doing it, by names under `[caution]`"
    )


def work_faults(
    tables: Sequence[WorkTable], limits: Mapping[str, float], cautions: Mapping[str, str]
) -> Iterator[tuple[Loc, str]]:
    """What is wrong across the tables; none of them at all is no fault: older tables had none."""
    seen: set[str] = set()
    for number, table in enumerate(tables):
        if table.id in seen:
            yield (
                ("work", number, "id"),
                worded("a work rule {rule} is already there", rule=repr(table.id)),
            )
        seen.add(table.id)
        for loc, message in (*limit_faults(table.when, limits), *_unnamed(table, cautions)):
            yield ("work", number, *loc), message
        fits_all, last = not asked(table.when), number == len(tables) - 1
        if last and not fits_all:
            yield ("work", number, "when"), worded("the last work rule must have an empty when")
        if fits_all and not last:
            yield ("work", number), worded("fits every finding, so nothing below is ever tried")


def _unnamed(table: WorkTable, cautions: Mapping[str, str]) -> Iterator[tuple[Loc, str]]:
    """Cautions asked for by a name that has no sentence."""
    for place, name in enumerate(table.cautions):
        if name not in cautions:
            yield ("cautions", place), unknown(name, cautions, to_word("name under [caution]"))


def work_rule(row: WorkTable, cautions: Mapping[str, str]) -> WorkRule:
    """One work rule as the rest of the program sees it, its cautions as sentences."""
    return WorkRule(
        id=row.id,
        steps=tuple(row.steps),
        source=row.source,
        when=asked(row.when),
        prove=tuple(row.prove),
        urgency=row.urgency or "",
        cautions=tuple(cautions[name] for name in row.cautions),
    )
