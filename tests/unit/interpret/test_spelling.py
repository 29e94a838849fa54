"""Spelled characters and identification numbers."""

from __future__ import annotations

import pytest

from voicelog.interpret.spelling import Spelled, Vin, spell, vin_check


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
    ],
)
def test_words_become_characters(text: str, spelled: str) -> None:
    """Both spellings of a code word, digits said or written, letters as they are."""
    assert spell(text.split()) == Spelled(spelled, len(text.split()))


def test_spelling_ends_at_the_first_other_word() -> None:
    """What follows is left to the reader; nothing spelled is nothing."""
    assert spell(["i", "spell", "alfa", "one", "over", "there"], 2) == Spelled("A1", 4)
    assert spell(["surface", "rust"]) == Spelled("", 0)


def test_a_vin_is_checked_in_any_case() -> None:
    """Lower case and spaces around it do not matter."""
    assert vin_check(" 1m8gdm9axkp042788 ") == Vin("1M8GDM9AXKP042788", valid=True, expected="X")


@pytest.mark.parametrize(
    ("vin", "problem"),
    [
        ("1M8GDM9AXKP04278O", "position 17 is O"),
        ("1M8GDM9AXKP04278", "16 characters instead of 17"),
        ("1M8GDM9AXKP042_88", "position 15 is '_'"),
        ("1M8GDM9AXKP042789", "position 9 is X, the other characters ask for 1"),
        ("", "0 characters instead of 17"),
    ],
)
def test_a_bad_vin_says_what_is_wrong(vin: str, problem: str) -> None:
    """The position and what stands there, in plain words."""
    checked = vin_check(vin)
    assert not checked.valid
    assert problem in checked.problem
