"""Which of two names was misheard: the one that explains more words."""

from __future__ import annotations

import pytest

from voicelog.config.grammar import load_grammar
from voicelog.domain.heard import Heard
from voicelog.interpret.reader import Reader


@pytest.fixture(scope="module")
def reader() -> Reader:
    """The shipped words and map."""
    grammar = load_grammar()
    return Reader(grammar.vocabulary, grammar.zone_map)


@pytest.mark.parametrize(
    ("text", "zone"),
    [
        ("right front sail, pitting", "front-rail"),
        ("left mid sail has pitting", "mid-rail"),
        ("strong box mount, scale", "steering-box-mount"),
        ("left where rail, pitting", "rear-rail"),
        ("left where hanger, pitting", "rear-spring-hanger"),
        ("left box mount, scale", "bed-mount"),
        ("left sill, pitting", "sill"),
        ("left front sill, pitting", "sill"),
    ],
)
def test_two_words_go_before_one(reader: Reader, text: str, zone: str) -> None:
    """ "Front sail" is a rail, although "sail" alone is more like a sill."""
    (said,) = reader.read(Heard.typed(text)).statements
    assert said.slots.get("zone") == zone


@pytest.mark.parametrize("side", ["bright", "let", "lift"])
def test_what_sounds_like_a_side_begins_no_name(reader: Reader, side: str) -> None:
    """ "Bed outrigger" is a bed mount, and "let outrigger" a left one."""
    (said,) = reader.read(Heard.typed(f"{side} outrigger, pitting")).statements
    assert said.slots.get("zone") == "outrigger"
