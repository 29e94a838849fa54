"""What a rule asks for: the shape of ``when`` in rules, in work and in pointers."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Annotated

from pydantic import Field

from voicelog.config.document import Table
from voicelog.config.positions import Loc
from voicelog.config.shape import OneOf, unknown
from voicelog.domain.grade import Grade
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
from voicelog.tongue import to_word

Limit = float | str
"""A number, or the name of one of the file's limits."""

GradeName = Annotated[str, OneOf(tuple(Grade), to_word("grade"))]

OPEN = ("not-seen", "cavity-not-seen", "not-probed", "no-photo", "doubtful")
"""What can be open at a place, or about an entry that is no finding."""

_NUMBERS = ("loss_at_least", "loss_below", "size_at_least")


class When(Table):
    """What a rule asks for. All keys given must fit; of a list, one value is enough."""

    condition: list[Annotated[str, OneOf(CONDITIONS, to_word("condition"))]] | None = Field(
        default=None, description="the finding's condition"
    )
    role: list[Annotated[str, OneOf(tuple(Role), to_word("role"))]] | None = Field(
        default=None, description="the role of its zone"
    )
    zone: list[str] | None = Field(
        default=None, description="its zone; a zone that the map lacks never fits"
    )
    main_member: bool | None = Field(
        default=None, description="true: its zone is a station of the main members (`main`)"
    )
    cabin: bool | None = Field(
        default=None, description="true: its zone closes the cabin (`cabin`)"
    )
    side: list[Annotated[str, OneOf(SIDES, to_word("side"))]] | None = Field(
        default=None, description="the side"
    )
    part: list[Annotated[str, OneOf(PARTS, to_word("part"))]] | None = Field(
        default=None, description="the part of the member"
    )
    layer: list[Annotated[str, OneOf(LAYERS, to_word("layer"))]] | None = Field(
        default=None, description="coating or metal"
    )
    probe: list[Annotated[str, OneOf(PROBES, to_word("probe result"))]] | None = Field(
        default=None, description="what the probe did"
    )
    unprobed: bool | None = Field(default=None, description="true: no probe result was said")
    method: list[Annotated[str, OneOf(METHODS, to_word("method"))]] | None = Field(
        default=None, description="the strongest method said"
    )
    surround: list[Annotated[str, OneOf(SURROUNDS, to_word("surround"))]] | None = Field(
        default=None, description="whether solid metal is left around it"
    )
    certainty: list[Annotated[str, OneOf(CERTAINTIES, to_word("certainty"))]] | None = Field(
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


class AdviceWhen(When):
    """What a pointer asks for: a rule's keys, and what grading made of the finding."""

    grade: list[GradeName] | None = Field(
        default=None, description="its grade, or what the inspector called it where that is worse"
    )
    unproven: bool | None = Field(
        default=None, description="true: the metal itself was not reached"
    )
    rot: bool | None = Field(
        default=None,
        description="true: metal is gone or gives way: a hole, a soft spot, a probe that moves, sinks "
        "in or goes through, or a wall loss at the limit `wall_loss_percent`",
    )
    routine: bool | None = Field(
        default=None, description="true: its zone is renewed as a matter of routine (`routine`)"
    )


class WorkWhen(AdviceWhen):
    """What a work rule asks for; with ``open`` it is for places, without it for findings."""

    open: list[Annotated[str, OneOf(OPEN, to_word("thing left open"))]] | None = Field(
        default=None,
        description="what is open at a place; a rule that asks for it is for places that nobody saw, "
        "any other for findings",
    )


def limits_named(when: When) -> dict[str, str]:
    """The limits it asks for by name, by its key."""
    given = {key: getattr(when, key) for key in _NUMBERS}
    return {key: limit for key, limit in given.items() if isinstance(limit, str)}


def limit_faults(when: When, limits: Mapping[str, float]) -> Iterator[tuple[Loc, str]]:
    """Limits asked for by a name that has no number."""
    for key, limit in limits_named(when).items():
        if limit not in limits:
            yield ("when", key), unknown(limit, limits, to_word("name under [limits]"))


def asked(when: When) -> dict[str, object]:
    """Its keys as the rest of the program sees them; lists become tuples."""
    given = when.model_dump(exclude_none=True)
    return {key: tuple(v) if isinstance(v, list) else v for key, v in given.items()}
