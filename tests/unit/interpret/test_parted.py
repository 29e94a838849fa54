"""A state parted from its thing by the place: one fault, of more than the words behind the place."""

from __future__ import annotations

import pytest

from voicelog.config.grammar import load_grammar
from voicelog.domain.heard import Heard
from voicelog.interpret.reader import Reader


@pytest.fixture(scope="module")
def reader() -> Reader:
    """The shipped words and map; a reader remembers nothing between utterances."""
    grammar = load_grammar()
    return Reader(grammar.vocabulary, grammar.zone_map)


@pytest.mark.parametrize(
    ("said", "zone", "condition"),
    [
        ("the bolts on the left cab mount are wasted", "cab-mount", "wasted-fixing"),
        ("not missing, the bolts on the left cab mount, just wasted", "cab-mount", "wasted-fixing"),
        ("paint on the left sill is flaking off", "sill", "peeling-coating"),
        ("seam on the left sill's blown", "sill", "pack-rust"),
        ("drain holes in the left rear rail are plugged with mud", "rear-rail", "blocked-drain"),
        ("left outrigger and the drain in it is choked solid", "outrigger", "blocked-drain"),
    ],
)
def test_the_thing_before_the_place_and_the_words_behind_it_are_one_fault(
    reader: Reader, said: str, zone: str, condition: str
) -> None:
    """ "Wasted" says little, "bolts wasted" all."""
    (statement,) = reader.read(Heard.typed(said)).statements
    assert [statement.slots.get(name) for name in ("zone", "side", "condition")] == [
        zone, "left", condition,
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("said", "condition"),
    [
        ("bolts, left cab mount, pitting", "pitting"),
        ("bolts on the left, left cab mount is pitted", "pitting"),
        ("weld on the left outrigger has a crack", "crack"),
    ],
)
def test_words_that_are_no_phrase_of_the_thing_stay_what_they_are(
    reader: Reader, said: str, condition: str
) -> None:
    """Nor is anything tied to a thing that lies elsewhere."""
    (statement,) = reader.read(Heard.typed(said)).statements
    assert statement.slots["condition"] == condition
