"""The number of an odometer, in the ways people say it."""

from __future__ import annotations

import pytest

from voicelog.interpret.mileage import reading_at


@pytest.mark.parametrize(
    ("said", "value", "words"),
    [
        ("eighty two thousand four hundred miles", 82_400, 5),
        ("82400", 82_400, 1),
        ("a hundred and thirty one thousand", 131_000, 6),
        ("131 thousand k", 131_000, 2),
        ("131 k miles", 131_000, 2),
        ("one three one four five two kilometres", 131_452, 6),
        ("one thirty one four fifty two", 131_452, 6),
        ("eighty two four hundred", 82_400, 4),
        ("eight double two oh five", 82_205, 5),
        ("82 400 mi", 82_400, 2),
        ("82400.5 miles", 82_400.5, 1),
        ("nought", 0, 1),
    ],
)
def test_a_reading_however_it_is_said(said: str, value: float, words: int) -> None:
    """As one number, digit by digit, or in groups; its unit is left to whoever asks."""
    found = reading_at(said.split(), 0)
    assert found is not None
    assert (found.value, found.end) == (value, words)


@pytest.mark.parametrize("said", ["", "miles", "about eighty", "three quarters of it"])
def test_what_is_no_reading(said: str) -> None:
    """A fraction is none, and nothing is looked for further on."""
    found = reading_at(said.split(), 0)
    assert found is None or found.end < len(said.split())


def test_a_telephone_number_is_not_run_together() -> None:
    """More digits than an odometer has are left as single ones."""
    said = "oh one two three four five six seven eight nine"
    found = reading_at(said.split(), 0)
    assert found is None


def test_k_behind_thousands_is_a_unit() -> None:
    """ "131 k" is thousands; "131452 k" is kilometres, which the unit's own words tell."""
    short, long = reading_at(["131", "k"], 0), reading_at(["131452", "k"], 0)
    assert short is not None
    assert long is not None
    assert (short.value, short.thousands, long.end) == (131_000, True, 1)
