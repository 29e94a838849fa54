"""The changes of a journal line: entries and their slots as they were kept."""

from __future__ import annotations

from typing import Annotated, Literal, NotRequired

from pydantic import Field, with_config
from typing_extensions import TypedDict  # pydantic refuses typing's own before Python 3.12

from voicelog.export import scalars as s

HeldSlots = dict[str, str | float]
"""Slots as they were kept: neither rounded nor checked."""

HeldRanges = dict[str, Annotated[list[float], Field(min_length=2, max_length=2)]]
"""Slots said as a range, with its lower and upper end as they were kept."""


@with_config(s.OPEN)
class HeldQuestion(TypedDict):
    """What should be asked."""

    slot: str
    options: list[str]


@with_config(s.OPEN)
class HeldEntry(TypedDict):
    """An entry as it was kept."""

    id: s.EntryId
    utterance: s.UtteranceId
    at: s.Time
    kind: s.Kind
    slots: HeldSlots
    text: NotRequired[str]
    doubts: NotRequired[list[str]]
    reason: NotRequired[str]
    questions: NotRequired[list[HeldQuestion]]
    absent: NotRequired[list[str]]
    unplaced: NotRequired[bool]
    place_assumed: NotRequired[bool]
    tags: NotRequired[list[str]]
    runner_up: NotRequired[HeldSlots]
    ranges: NotRequired[HeldRanges]


@with_config(s.OPEN)
class Add(TypedDict):
    """A new entry."""

    do: Literal["add"]
    entry: HeldEntry


@with_config(s.OPEN)
class Amend(TypedDict):
    """Slots of an earlier entry replaced, added or dropped."""

    do: Literal["amend"]
    entry: s.EntryId
    set: HeldSlots
    why: str
    drop: NotRequired[list[str]]
    kind: NotRequired[s.Kind]
    doubts: NotRequired[list[str]]
    absent: NotRequired[list[str]]
    questions: NotRequired[list[HeldQuestion]]
    ranges: NotRequired[HeldRanges]


@with_config(s.OPEN)
class Withdraw(TypedDict):
    """An earlier entry no longer holds."""

    do: Literal["withdraw"]
    entry: s.EntryId


@with_config(s.OPEN)
class Restore(TypedDict):
    """An earlier entry that was withdrawn holds again."""

    do: Literal["restore"]
    entry: s.EntryId


@with_config(s.OPEN)
class Replace(TypedDict):
    """An earlier entry as it is from now on, whole; it keeps its id."""

    do: Literal["replace"]
    entry: HeldEntry


Change = Annotated[Add | Amend | Withdraw | Restore | Replace, Field(discriminator="do")]
