"""Spoken text under random input: every text is read, carried on and graded, in bounded time."""

from __future__ import annotations

import random
from collections.abc import Iterator
from functools import cache

from fuzz_target import Target

from voicelog.config.grammar import Grammar, load_grammar
from voicelog.config.settings import Settings
from voicelog.domain.heard import Heard
from voicelog.runtime import understanding

_MOST_WORDS = 120
"""An utterance ends after twenty seconds; nobody says more words in them."""

_SEEDS = (
    "left front rail, surface rust, scraped it, metal is firm\nscraper went through it",
    "right control arm mount, inside the pocket, hole ten to fifteen mil, goes through",
    "left mid rail thickness one point nine, new is two point five\ncorrection, two point one",
    "not seen, left control arm mount, inside, splash shield in the way",
    "photo, right control arm mount, inside\nscratch that\nrepeat",
    "subject is a pickup\nodometer two hundred thousand kilometers\nvin is one two three",
    "gearbox cross member clean, no holes, no cracks, tapped it, rings true",
)


def words() -> Target:
    """A few utterances, one a line, as an inspection would hear them; the reader, which remembers
    nothing, is made only once.
    """
    read = understanding.Reader(_grammar().vocabulary, _grammar().zone_map)
    understanding.Reader = lambda *_, **__: read  # type: ignore[misc,assignment]

    def run(data: bytes) -> None:
        told = understanding.Understanding(Settings(), _grammar(), 8.0)
        for number, line in enumerate(data.decode("utf-8", "replace").split("\n")[:6], 1):
            text = " ".join(line.split()[:_MOST_WORDS])
            told.take(
                Heard.typed(text), utterance=f"u{number}", at="2026-03-14T09:00:00.000Z",
                at_s=number * 5.0, began_s=number * 5.0 - 2,
            )  # fmt: skip
        held = told.inspection()
        assert len({finding.entry.id for finding in held.findings}) == len(held.findings)
        assert held.verdict.drive

    return Target(
        "spoken text: read, carry on, grade", run, _texts, _said, longest=1_200, patience_s=20
    )


def _texts() -> Iterator[bytes]:
    yield from (text.encode() for text in _SEEDS)


def _said(data: bytes, longest: int, more: random.Random) -> bytes:
    """Another text: words of the vocabulary put in, taken out, doubled, moved, broken."""
    said = data.decode("utf-8", "replace").split(" ")
    for _ in range(more.choice((1, 2, 4, 8))):
        at = more.randrange(len(said) + 1)
        match more.randrange(6):
            case 0 | 1 | 2:
                said.insert(at, more.choice(_phrases()))
            case 3:
                said[at : at + more.randrange(4)] = []
            case 4:
                said.insert(at, more.choice(said) if said else "no")
            case _:
                said.insert(at, more.choice(_ODD))
    return " ".join(said).encode("utf-8", "surrogatepass")[:longest]


_ODD = (
    "\n", ",", ".", "no", "not", "and", "or", "to", "minus", "point", "1e309", "0", "-5", "9" * 40, "½", "٣", "²",
    "\u202e", "\x00", "\x1b[2J", "ß", "İ", "zwölf", "a" * 200, "''", "x's", "100%", "3/4", "1,5", "u2", "e1.1",
)  # fmt: skip


@cache
def _phrases() -> tuple[str, ...]:
    known = _grammar().vocabulary
    return tuple(phrase.text for phrase in (*known.phrases, *known.numerals, *known.header))


@cache
def _grammar() -> Grammar:
    return load_grammar()
