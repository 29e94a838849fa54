"""The spoken vocabulary: the shape of ``words/*.toml`` and the checks a shape cannot make."""

from __future__ import annotations

from collections.abc import Collection, Iterator
from typing import Annotated

from pydantic import Field

from voicelog.config.document import Sheet, Table
from voicelog.config.positions import Loc
from voicelog.config.shape import OneOf, unknown
from voicelog.domain.reading import Phrase
from voicelog.domain.slot import CONDITIONS, SLOTS, plausible

WORD_CLASSES: frozenset[str] = frozenset(
    {
        "act",
        "address",
        "all",
        "approximate",
        "attention",
        "attention-word",
        "bad",
        "clear",
        "coin",
        "contrast",
        "end",
        "filler",
        "good",
        "hedge",
        "history",
        "hypothetical",
        "ignore",
        "join",
        "kerb",
        "label",
        "negation",
        "numberword",
        "other-side",
        "past",
        "pronoun",
        "question",
        "reason",
        "relation",
        "repair",
        "rot",
        "rust",
        "same",
        "seat",
        "tag",
        "unit",
        "viewer",
    }
)
"""What a phrase can be when it is no slot of an entry: words that steer how the rest is read."""

SAYABLE = tuple(sorted((*SLOTS, *WORD_CLASSES)))


NUMBER = "number"
"""Value of a numeric slot in the vocabulary: the words announce a number."""


class Meaning(Table):
    """One meaning and the ways to say it."""

    slot: Annotated[str, OneOf(SAYABLE, "slot or word class")] = Field(
        description="what the words say something about: a slot of an entry, or a class of words"
    )
    value: str = Field(
        description="the slot's value (from its closed list, if it has one), or the member's name",
        min_length=1,
    )
    say: list[str] = Field(description="the ways people say it", min_length=1)
    misheard: list[str] = Field(
        default=[], description="what a recogniser is known to make of it; never used as a hint"
    )
    also: dict[str, str] = Field(
        default={}, description="further slots the same words settle, slot to value"
    )
    replace: bool = Field(
        default=False,
        description="in an overlay: take these phrases over from another, shipped meaning",
    )


class WordsFile(Sheet):
    """A file of the vocabulary."""

    meaning: list[Meaning] = Field(default=[], description="the meanings, one table each")


def meaning_faults(meaning: Meaning, zones: Collection[str]) -> Iterator[tuple[Loc, str]]:
    """What is wrong with the values: the way to each below the meaning, and the message."""
    for message in value_faults(meaning.slot, meaning.value, zones):
        yield ("value",), message
    for slot, value in meaning.also.items():
        if slot not in SAYABLE:
            yield ("also", slot), unknown(slot, SAYABLE, "slot or word class")
        for message in value_faults(slot, value, zones):
            yield ("also", slot), message


def value_faults(slot: str, value: str, zones: Collection[str]) -> Iterator[str]:
    """Messages about a value that its slot cannot hold; word classes hold anything."""
    spec = SLOTS.get(slot)
    closed = {"zone": tuple(zones), "condition": CONDITIONS}.get(slot, spec.choices if spec else ())
    if closed and value not in closed:
        yield unknown(value, closed, slot)
    if spec and spec.kind in ("length", "percent", "count") and not _fits(slot, value):
        yield f"{value!r} is not a number from {spec.low:g} to {spec.high:g}, nor {NUMBER!r}"


def _fits(slot: str, value: str) -> bool:
    """True for a number within the slot's bounds, and for the mark that one follows."""
    if value == NUMBER:
        return True
    try:
        return plausible(slot, float(value))
    except ValueError:
        return False


def meaning_phrases(meaning: Meaning) -> Iterator[tuple[Loc, Phrase]]:
    """Its phrases as written, with the way to each below the meaning."""
    slot, value, also = meaning.slot, meaning.value, meaning.also
    for number, text in enumerate(meaning.say):
        yield ("say", number), Phrase(text, slot, value, also)
    for number, text in enumerate(meaning.misheard):
        yield ("misheard", number), Phrase(text, slot, value, also, misheard=True)


def words_faults(sheet: WordsFile, zones: Collection[str]) -> Iterator[tuple[Loc, str]]:
    """What is wrong with the values of a whole file."""
    for number, meaning in enumerate(sheet.meaning):
        for loc, message in meaning_faults(meaning, zones):
            yield ("meaning", number, *loc), message


def words_phrases(sheet: WordsFile) -> Iterator[tuple[Loc, Phrase]]:
    """The phrases of a whole file as written, with the way to each."""
    for number, meaning in enumerate(sheet.meaning):
        for loc, phrase in meaning_phrases(meaning):
            yield ("meaning", number, *loc), phrase
