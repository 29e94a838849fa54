"""Numbers in words, against num2words, and lengths whose label is what was said."""

from __future__ import annotations

import random
from fractions import Fraction

import pytest
from num2words import num2words
from spoken_numbers import (
    Units,
    decimal_in_words,
    in_words,
    inches_in_words,
    say_length,
    say_length_before,
    say_range,
    say_thin,
)

NAMES = {"mm": ["millimetres"], "cm": ["centimetres"]}
METRIC = Units("metric", bare=False, names=NAMES)
BARE = Units("metric", bare=True, names=NAMES)
INCH = Units("inch", bare=False, names=NAMES)


def test_whole_numbers_are_those_of_num2words() -> None:
    """Zero to 999 read as the package num2words writes them, hyphens aside."""
    for number in range(1000):
        assert in_words(number) == num2words(number).replace("-", " ")


@pytest.mark.parametrize("number", [-1, 1000])
def test_numbers_outside_are_refused(number: int) -> None:
    """Nobody says such a number under a vehicle."""
    with pytest.raises(ValueError, match="not from 0 to 999"):
        in_words(number)


@pytest.mark.parametrize(
    ("tenths", "words"), [(19, "one point nine"), (20, "two"), (5, "zero point five")]
)
def test_tenths_are_said_with_point(tenths: int, words: str) -> None:
    """A whole number has no point."""
    assert decimal_in_words(tenths) == words


@pytest.mark.parametrize(
    ("inches", "words"),
    [
        (Fraction(1, 2), "half an inch"),
        (Fraction(3, 4), "three quarters of an inch"),
        (Fraction(1, 4), "one quarter of an inch"),
        (Fraction(3, 8), "three eighths"),
        (Fraction(5, 16), "five sixteenths"),
        (Fraction(1), "one inch"),
        (Fraction(2), "two inches"),
        (Fraction(3, 2), "one and a half inches"),
        (Fraction(11, 4), "two and three quarters inches"),
    ],
)
def test_inches_are_said_as_fractions(inches: Fraction, words: str) -> None:
    """Quarters and halves carry the unit, smaller parts stand bare."""
    assert inches_in_words(inches) == words


def test_the_label_is_what_was_said() -> None:
    """The rough size is rounded by the speaker, and the label with it."""
    rng = random.Random(1)
    assert (say_length(rng, 14.6, BARE).words, say_length(rng, 14.6, BARE).value) == (
        "fifteen",
        15.0,
    )
    assert say_length(rng, 14.6, BARE, whole=True).words == "fifteen millimetres"
    assert say_length(rng, 12.9, INCH).value == pytest.approx(12.7)
    assert say_length_before(rng, 14.6, METRIC).words == "fifteen millimetre"
    assert say_thin(rng, 1.9, METRIC).words == "one point nine millimetres"
    assert say_thin(rng, 1.53, INCH).words == "sixty thou"
    assert say_thin(rng, 1.53, INCH).value == pytest.approx(1.524)


def test_of_a_range_the_larger_counts() -> None:
    """Ten to fifteen millimetres is fifteen, two to three inches is three."""
    rng = random.Random(1)
    assert (say_range(rng, 14, METRIC).words, say_range(rng, 14, METRIC).value) == (
        "ten to fifteen millimetres",
        15,
    )
    assert say_range(rng, 75, INCH).value == pytest.approx(76.2)
