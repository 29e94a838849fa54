"""A reading in words."""

from __future__ import annotations

import pytest

from voicelog.config.grammar import Grammar
from voicelog.domain.heard import Heard
from voicelog.interpret.reader import Reader
from voicelog.runtime.reading_words import reading_in_words
from voicelog.runtime.warm_up_prompts import sense_of


@pytest.fixture(scope="module")
def reader(shipped_grammar: Grammar) -> Reader:
    """With the shipped words."""
    return Reader(shipped_grammar.vocabulary, shipped_grammar.zone_map)


@pytest.mark.parametrize(
    ("said", "told"),
    [
        ("left sill, hole 20 mm", "left sill, hole, 20 mm"),
        ("left sill hole, right sill crack", "left sill, hole; right sill, crack"),
        ("left sill is clean", "left sill, clear"),
        ("can't see the left sill", "left sill, not seen"),
        ("hole on the left", "left, hole"),
        ("finish inspection", "finish"),
        ("nice weather today", "nothing"),
    ],
)
def test_place_and_what_is_there(
    reader: Reader, shipped_grammar: Grammar, said: str, told: str
) -> None:
    """Of each statement; of a command, what it does."""
    senses = sense_of(reader.read(Heard.typed(said)))
    assert reading_in_words(senses, shipped_grammar.zone_map) == told
