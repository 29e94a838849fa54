"""The spoken vocabulary: the shape of ``words/*.toml`` and the checks a shape cannot make."""

from __future__ import annotations

from collections.abc import Collection, Iterator
from typing import Annotated

from pydantic import Field

from voicelog.config.document import Sheet, Table
from voicelog.config.positions import Loc
from voicelog.config.shape import OneOf, unknown
from voicelog.config.word_classes import WORD_CLASSES, word_faults
from voicelog.domain.reading import Phrase
from voicelog.domain.slot import CONDITIONS, SLOTS, plausible
from voicelog.tongue import to_word, worded

SAYABLE = tuple(sorted((*SLOTS, *WORD_CLASSES)))


NUMBER = "number"
"""Value of a numeric slot in the vocabulary: the words announce a number."""


class Meaning(Table):
    """One meaning and the ways to say it."""

    slot: Annotated[str, OneOf(SAYABLE, to_word("slot or word class"))] = Field(
        description="what the words say something about: a slot of an entry, or a class of words"
    )
    value: str = Field(
        description="the slot's value (from its closed list, if it has one), or the member's name",
        min_length=1,
    )
    say: list[str] = Field(description="the ways people say it", min_length=1)
    of: list[str] = Field(
        default=[],
        description="what `say` is said of: each of these words followed by each way to say it is a "
        "phrase, and the ways alone are none",
    )
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


class Confusion(Table):
    """Words that recognisers are known to take for others, told by ``voicelog words check``."""

    say: str = Field(description="what is said: words of a phrase", min_length=1)
    heard: list[str] = Field(
        description="what recognisers make of it although it means something else, or nothing",
        min_length=1,
    )


class WordsFile(Sheet):
    """A file of the vocabulary."""

    meaning: list[Meaning] = Field(default=[], description="the meanings, one table each")
    confusion: list[Confusion] = Field(
        default=[], description="words that sound alike to recognisers, for the check of the words"
    )


def meaning_faults(meaning: Meaning, zones: Collection[str]) -> Iterator[tuple[Loc, str]]:
    """What is wrong with the values: the way to each below the meaning, and the message."""
    for message in value_faults(meaning.slot, meaning.value, zones):
        yield ("value",), message
    for slot, value in meaning.also.items():
        if slot not in SAYABLE:
            yield ("also", slot), unknown(slot, SAYABLE, to_word("slot or word class"))
        for message in value_faults(slot, value, zones):
            yield ("also", slot), message


def value_faults(slot: str, value: str, zones: Collection[str]) -> Iterator[str]:
    """Messages about a value that its slot or word class cannot hold."""
    yield from word_faults(slot, value)
    spec = SLOTS.get(slot)
    closed = {"zone": tuple(zones), "condition": CONDITIONS}.get(slot, spec.choices if spec else ())
    if closed and value not in closed:
        yield unknown(value, closed, slot)
    if spec and spec.kind in ("length", "percent", "count") and not _fits(slot, value):
        yield worded(
            "{value} is not a number from {low} to {high}, nor {number}",
            value=repr(value),
            low=f"{spec.low:g}",
            high=f"{spec.high:g}",
            number=repr(NUMBER),
        )


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
        for said in [f"{noun} {text}" for noun in meaning.of] or [text]:
            yield ("say", number), Phrase(said, slot, value, also)
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
