"""Spelled characters."""

from __future__ import annotations

import pytest

from voicelog.interpret.spelling import Spelled, spell


@pytest.mark.parametrize(
    ("text", "spelled"),
    [
        ("alfa bravo", "AB"),
        ("alpha juliet", "AJ"),
        ("juliett whisky", "JW"),
        ("x-ray xray", "XX"),
        ("x ray yankee", "XY"),
        ("tree fower fife niner", "3459"),
        ("unaone bissotwo", "12"),
        ("b 42 c", "B42C"),
        ("x yankee", "XY"),
        ("bee cee zed wye", "BCZY"),
        ("double u double you", "WW"),
        ("double seven treble nine", "77999"),
        ("to seven for ate", "2748"),
        ("sea uh are dash you", "CRU"),
        ("1m8gdm9axkp042788", "1M8GDM9AXKP042788"),
    ],
)
def test_words_become_characters(text: str, spelled: str) -> None:
    """Code words, letters by name or as written for them, digits said or written, repetitions."""
    assert spell(text.split()) == Spelled(spelled, len(text.split()))


def test_spelling_ends_at_the_first_other_word() -> None:
    """What follows is left to the reader; nothing spelled is nothing."""
    assert spell(["i", "spell", "alfa", "one", "over", "there"], 2) == Spelled("A1", 4)
    assert spell(["surface", "rust"]) == Spelled("", 0)
    assert spell(["alfa", "one", "for", "the", "trailer"]) == Spelled("A1", 2)
