"""Phrases of different meaning that sound alike."""

from __future__ import annotations

import time

import pytest

from voicelog.config.grammar import load_grammar
from voicelog.domain.reading import Phrase
from voicelog.interpret.collisions import collisions


def _phrases(*texts: str) -> list[Phrase]:
    return [Phrase(text, "act", text) for text in texts]


@pytest.mark.parametrize(
    ("one", "other", "least"),
    [
        ("brake", "break", 0.99), ("say again", "same again", 0.85), ("rot", "right", 0.74),
        ("sill", "scale", 0.6), ("sill", "seal", 0.85), ("rust", "rest", 0.8), ("our", "hour", 0.9),
    ],
)  # fmt: skip
def test_a_pair_is_found(one: str, other: str, least: float) -> None:
    """With its likeness, in the order in which the phrases come."""
    ((first, second, likeness),) = collisions(_phrases("kettle", one, other), least)
    assert (first.text, second.text) == (one, other)
    assert likeness >= least


def test_the_most_alike_come_first() -> None:
    """Each pair once."""
    found = collisions(_phrases("rust", "rest", "brake", "break", "right", "rot"), 0.7)
    assert [(one.text, other.text) for one, other, _ in found] == [
        ("brake", "break"), ("rust", "rest"), ("right", "rot"),
    ]  # fmt: skip


def test_one_meaning_does_not_collide_with_itself() -> None:
    """Two phrases for one thing, a phrase of two classes, a phrase and its known mishearing."""
    same = [Phrase("brake", "zone", "brake"), Phrase("break", "zone", "brake")]
    two_classes = [Phrase("brake", "zone", "brake"), Phrase("brake", "tag", "work")]
    misheard = [Phrase("brake", "zone", "brake"), Phrase("break", "tag", "rest", misheard=True)]
    assert collisions(same, 0.5) == collisions(two_classes, 0.5) == collisions(misheard, 0.5) == ()


def test_what_also_is_settled_makes_a_difference() -> None:
    """The same value with another method is another meaning."""
    tapped = Phrase("rings", "probe", "firm", also={"method": "tapped"})
    assert len(collisions([tapped, Phrase("wrings", "probe", "firm")], 0.9)) == 1


def test_the_shipped_vocabulary_is_looked_through_in_time() -> None:
    """16,000 phrases in about 2 s as measured; the limit leaves room for a busy machine."""
    phrases = load_grammar().vocabulary.phrases
    start = time.process_time()
    found = collisions(phrases, 0.85)
    assert time.process_time() - start < 4.0
    assert any({one.text, other.text} == {"say again", "same again"} for one, other, _ in found)
