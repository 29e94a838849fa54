"""Number words against published vectors and an independent speller.

Sources: test vectors of the open libraries text2num, text2num-rs (allo-media) and word2number
(akshaynagpal), where they agree with each other or with arithmetic; the package num2words as the
way back.
"""

from __future__ import annotations

from fractions import Fraction

import pytest
from num2words import num2words

from voicelog.interpret.numbers import number_at, ordinal_at


def _value(text: str) -> Fraction:
    words = text.split()
    found = number_at(words, 0)
    assert found is not None, text
    assert found.end == len(words), text
    return found.value


def _each(text: str) -> list[Fraction]:
    """The numbers of a text one after the other, other words left out."""
    words, at, values = text.split(), 0, []
    while at < len(words):
        found = number_at(words, at)
        at = found.end if found else at + 1
        values += [found.value] if found else []
    return values


@pytest.mark.parametrize(
    ("said", "value"),
    [
        ("fifty-one million five hundred seventy-eight thousand three hundred two", "51578302"),
        (
            "fifty-three billion two hundred forty-three thousand seven hundred twenty-four",
            "53000243724",
        ),
        ("fifteen", "15"),
        ("eighty-one", "81"),
        ("eighty-five", "85"),
        ("one hundred fifteen", "115"),
        ("hundred fifteen", "115"),
        ("seventy-five thousands", "75000"),
        ("thousand nine hundred twenty", "1920"),
        ("nineteen hundred seventy-three", "1973"),
        ("forty five hundred thirty eight", "4538"),
        ("fourty two", "42"),
        ("zero", "0"),
        ("one hundred and forty two", "142"),
        ("two thousand and nineteen", "2019"),
        ("two million three thousand nine hundred and eighty four", "2003984"),
        ("two point three", "2.3"),
        ("nine point nine nine nine", "9.999"),
        ("point one", "0.1"),
        (
            "two million twenty three thousand and forty nine point two three six nine",
            "2023049.2369",
        ),
        ("zero point zero six two", "0.062"),
        ("twelve point ninety-nine", "12.99"),
        ("point fifteen", "0.15"),
        ("point nineteen", "0.19"),
        ("sixty hundred", "6000"),
        ("point oh six two", "0.062"),
        ("one and a half", "1.5"),
    ],
)
def test_published_vectors(said: str, value: str) -> None:
    """One number each; where the libraries disagree, the arithmetic decides."""
    assert _value(said) == Fraction(value)


@pytest.mark.parametrize(
    ("said", "values"),
    [
        ("one two three four twenty five", [1, 2, 3, 4, 25]),
        ("fifty sixty thirty and eleven", [50, 60, 30, 11]),
        ("sixty fifteen", [60, 15]),
        ("five zero", [5, 0]),
        ("fifty zero three", [50, 0, 3]),
        ("zero eight", [0, 8]),
        ("zero nine sixty zero six twelve twenty-one", [0, 9, 60, 0, 6, 12, 21]),
        ("minus fifteen", [15]),
        ("one point two hundred thirty-six", [Fraction("1.2"), 136]),
        ("thousand thousand two hundreds", [1000, 1200]),
        ("million million", [10**6, 10**6]),
        ("my name is o s c a r", []),
    ],
)
def test_runs_that_are_not_one_number(said: str, values: list[int | Fraction]) -> None:
    """Published as refused, or as several numbers; a sign is no part of a number here."""
    assert _each(said) == values


@pytest.mark.parametrize(("said", "value"), [("five hundred first", 501), ("twenty-first", 21)])
def test_published_ordinals(said: str, value: int) -> None:
    """text2num-rs: 501st and 21st."""
    found = ordinal_at(said.split(), 0)
    assert found is not None
    assert found.value == value


def test_whole_numbers_come_back_from_num2words() -> None:
    """0 to 2000, then every 37th up to 9999, with its "and" and hyphens."""
    for value in (*range(2001), *range(2001, 10_000, 37)):
        assert _value(num2words(value).replace(",", "")) == value


def test_years_come_back_from_num2words() -> None:
    """Hundreds above ten, "nineteen hundred" and its like."""
    for value in range(1100, 2000, 100):
        assert _value(num2words(value, to="year").replace(",", "")) == value


def test_decimals_come_back_from_num2words() -> None:
    """Thousandths up to 3.0, the range of sheet in mm, and two published traps."""
    texts = [f"{value / 1000:.3f}".rstrip("0") for value in range(1, 3000, 7) if value % 1000]
    for text in (*texts, "0.062", "12.99"):
        assert _value(num2words(text)) == Fraction(text)


def test_ordinals_come_back_from_num2words() -> None:
    """First to ninety-ninth, then every seventh up to 999 that is no round hundred."""
    for value in (*range(1, 100), *(value for value in range(101, 1000, 7) if value % 100)):
        found = ordinal_at(num2words(value, to="ordinal").split(), 0)
        assert found is not None
        assert found.value == value
