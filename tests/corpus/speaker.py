"""A person with habits of speech: who says a scene, and how it comes out of the mouth."""

from __future__ import annotations

import random
import re
import tomllib
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any

from spoken_numbers import Units

PARTS = ("tuning", "untouched")
PEOPLE = 12
"""So many persons speak in a part; each keeps his habits over all his cases."""

_FOLDER = Path(__file__).parent / "wordings"


@dataclass(frozen=True)
class Person:
    """One speaker's habits.

    Args:
        places: how he names a place: ``side-first``, ``side-last`` or ``side-apart``.
        sides: his side words: ``plain``, ``hand`` or ``kerb`` (nearside).
        units: how he says lengths.
        published: share of his names that are the contract's own ("front rail"), which both parts
            share; the rest are of the part's list.
        fillers: chance of a filler in an utterance.
        restarts: chance of a repeated first word.
        opens: chance that an utterance starts with talk.
        about: chance of a hedge on a number, which labels nothing.
        pauses: whether an ear would write his commas; without them it is one run of words.
    """

    places: str
    sides: str
    units: Units
    published: float
    fillers: float
    restarts: float
    opens: float
    about: float
    pauses: bool


@cache
def wordings(part: str) -> dict[str, Any]:
    """The word lists and the sentence plans of a part.

    Raises:
        ValueError: there is no such part.
    """
    if part not in PARTS:
        raise ValueError(f"no part {part!r}: one of {', '.join(PARTS)}")
    return tomllib.loads((_FOLDER / f"{part}.toml").read_text(encoding="utf-8"))


@cache
def people(part: str, seed: int) -> tuple[Person, ...]:
    """The persons of a part under one seed."""
    return tuple(_person(part, random.Random(f"{part}:{seed}:person{i}")) for i in range(PEOPLE))


def _person(part: str, rng: random.Random) -> Person:
    names = wordings(part)["units"]
    return Person(
        places=rng.choice(("side-first", "side-first", "side-last", "side-apart")),
        sides=rng.choice(("plain", "plain", "plain", "hand", "kerb")),
        units=Units(rng.choice(("metric", "metric", "inch")), rng.random() < 0.3, names),
        published=rng.uniform(0.3, 0.7),
        fillers=rng.choice((0.0, 0.1, 0.3)),
        restarts=rng.choice((0.0, 0.05, 0.15)),
        opens=rng.choice((0.0, 0.1, 0.3)),
        about=rng.choice((0.1, 0.3)),
        pauses=rng.random() < 0.65,
    )


def deliver(
    text: str, person: Person, phrases: dict[str, list[str]], rng: random.Random, *, first: bool
) -> str:
    """Planned words as the person brings them out: talk before, a restart, a filler, no commas.

    Short utterances (commands, a late probe) come out as planned; only the first of a case has talk
    before it.
    """
    text = _article(text)
    if len(text.split()) >= 4:
        text = _restart(text) if rng.random() < person.restarts else text
        text = _filler(text, phrases["filler"], rng) if rng.random() < person.fillers else text
        if first and rng.random() < person.opens:
            text = f"{rng.choice(phrases['opener'])}, {text}"
    return text if person.pauses else " ".join(re.sub(r"[,:?]", " ", text).split())


def _restart(text: str) -> str:
    """The first word twice, the way people start over: "left, left front rail"."""
    first = text.split()[0].strip(",:")
    return f"{first}, {text}"


def _filler(text: str, fillers: list[str], rng: random.Random) -> str:
    """A filler at a pause, or before everything when there is none."""
    pieces = text.split(", ")
    place = rng.randrange(len(pieces))
    return ", ".join([*pieces[:place], rng.choice(fillers), *pieces[place:]])


def _article(text: str) -> str:
    return re.sub(r"\ba (?=(?:eight|eleven|eighteen|eighty)\b)", "an ", text)
