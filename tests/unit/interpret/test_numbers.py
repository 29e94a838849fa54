"""Numbers among words."""

from __future__ import annotations

from fractions import Fraction

import pytest

from voicelog.interpret.numbers import Number, number_at, numbers_at, ordinal_at, part_at


def _number(text: str, start: int = 0) -> Number:
    found = number_at(text.split(), start)
    assert found is not None, text
    return found


@pytest.mark.parametrize(
    ("text", "value"),
    [
        ("seven", 7),
        ("niner", 9),
        ("a hundred and twenty", 120),
        ("a hundred", 100),
        ("hundred fifteen", 115),
        ("two thousand and nineteen", 2019),
        ("a thousand", 1000),
        ("nineteen hundred seventy-three", 1973),
        ("forty five hundred thirty eight", 4538),
        ("fourty two", 42),
        ("2 thousand", 2000),
        ("1,200", 1200),
        ("08", 8),
        ("a couple of", 2),
        ("couple", 2),
        ("dozen", 12),
        ("two dozen", 24),
        ("half a dozen", 6),
    ],
)
def test_whole_numbers_take_all_their_words(text: str, value: int) -> None:
    """Scales, "and", hyphens, digits and loose counts are one number to the last word."""
    words = text.removesuffix(" of").split()
    found = number_at(words, 0)
    assert found == Number(Fraction(value), len(words))


@pytest.mark.parametrize(
    ("text", "value"),
    [
        ("one point nine", "1.9"),
        ("point oh six two", "0.062"),
        ("point oh sixty two", "0.062"),
        ("oh point five", "0.5"),
        ("nought point five", "0.5"),
        ("two point two five", "2.25"),
        ("two point twenty five", "2.25"),
        ("one decimal five", "1.5"),
        ("point one twenty", "0.12"),
        ("2 point 5", "2.5"),
        ("1.9", "1.9"),
        (".062", "0.062"),
        ("1,200.5", "1200.5"),
    ],
)
def test_decimals_are_exact(text: str, value: str) -> None:
    """Said digit by digit, as a pair or in figures; "oh" is zero beside a point."""
    found = _number(text)
    assert (found.value, found.end, found.decimal) == (Fraction(value), len(text.split()), True)


@pytest.mark.parametrize(
    ("text", "value", "denominator"),
    [
        ("three sixteenths", "3/16", 16),
        ("three-sixteenths", "3/16", 16),
        ("three quarters", "3/4", 4),
        ("a quarter", "1/4", 4),
        ("an eighth", "1/8", 8),
        ("a half", "1/2", 2),
        ("half", "1/2", 2),
        ("seven eighths", "7/8", 8),
        ("two eighths", "1/4", 8),
        ("three eights", "3/8", 8),
        ("five thirty seconds", "5/32", 32),
        ("a thirty second", "1/32", 32),
        ("twenty one thirty seconds", "21/32", 32),
        ("seven sixty fourths", "7/64", 64),
        ("one and a half", "3/2", 2),
        ("one and half", "3/2", 2),
        ("two and three eighths", "19/8", 8),
        ("two hundred and three sixteenths", "3203/16", 16),
        ("3/16", "3/16", 16),
        ("3/16ths", "3/16", 16),
        ("3 16ths", "3/16", 16),
        ("3 16 ths", "3/16", 16),
        ("2 1/2", "5/2", 2),
        ("2-1/2", "5/2", 2),
        ("2 and 1/2", "5/2", 2),
    ],
)
def test_fractions_keep_the_denominator_said(text: str, value: str, denominator: int) -> None:
    """The value is exact and the denominator unreduced: two eighths are still eighths."""
    found = _number(text)
    assert (found.value, found.denominator, found.fraction) == (Fraction(value), denominator, True)
    assert found.end == len(text.split())


@pytest.mark.parametrize(
    ("text", "value", "end"),
    [
        ("sixty fifteen", 60, 1),
        ("five zero", 5, 1),
        ("fifty zero three", 50, 1),
        ("thousand thousand two hundreds", 1000, 1),
        ("million million", 10**6, 1),
        ("zero eight", 0, 1),
        ("one two three four", 1, 1),
        ("two quarter inch holes", 2, 1),
        ("two half inch holes", 2, 1),
        ("thirty seconds", 30, 1),
        ("two point", 2, 1),
        ("nine and then", 9, 1),
    ],
)
def test_a_run_that_is_not_one_number_ends_with_its_first(text: str, value: int, end: int) -> None:
    """Words that cannot be one number are left for the next."""
    assert number_at(text.split(), 0) == Number(Fraction(value), end)


@pytest.mark.parametrize(
    "text", ["a", "an", "to", "too", "for", "ate", "few", "several", "oh", "o"]
)
def test_words_that_only_sound_like_numbers_are_none(text: str) -> None:
    """Articles, homophones, vague counts, and "oh" away from a point."""
    assert number_at([text], 0) is None


def test_a_point_begins_the_next_number() -> None:
    """Two decimals in a row stay two."""
    words = ["one", "point", "nine", "two", "point", "five"]
    assert number_at(words, 0) == Number(Fraction("1.9"), 3, decimal=True)
    assert number_at(words, 3) == Number(Fraction("2.5"), 6, decimal=True)


def test_the_search_starts_where_it_is_told() -> None:
    """Indices count from the utterance's start, and outside it there is nothing."""
    words = ["hole", "about", "fifteen", "millimetres"]
    assert number_at(words, 2) == Number(Fraction(15), 3)
    assert [number_at(words, at) for at in (0, 1, 3, 4, 99)] == [None] * 5


def test_shorter_readings_are_offered_too() -> None:
    """Longest first, one for each place where a number could end."""
    assert [
        (int(n.value), n.end) for n in numbers_at(["a", "hundred", "and", "twenty", "two"], 0)
    ] == [
        (122, 5),
        (120, 4),
        (100, 2),
    ]


def test_a_number_never_ends_inside_a_hyphenated_word() -> None:
    """No two in "two-piece": its token goes on."""
    assert number_at(["two-piece"], 0) is None
    assert number_at(["fifty-one", "bolts"], 0) == Number(Fraction(51), 1)


def test_overlong_figures_are_no_number() -> None:
    """A thousand digits are noise, and cost nothing."""
    assert number_at(["9" * 1000], 0) is None


@pytest.mark.parametrize(
    ("text", "value"),
    [
        ("second", 2),
        ("twelfth", 12),
        ("twenty first", 21),
        ("twenty-first", 21),
        ("thirty second", 32),
        ("five hundred first", 501),
        ("one hundred and third", 103),
        ("2nd", 2),
    ],
)
def test_ordinals(text: str, value: int) -> None:
    """Alone, after tens or hundreds, or in figures."""
    assert ordinal_at(text.split(), 0) == Number(Fraction(value), len(text.split()))


@pytest.mark.parametrize("text", ["one second", "two", "ten third", "hundred"])
def test_not_ordinals(text: str) -> None:
    """A cardinal is none, nor one followed by an ordinal that it does not lead up to."""
    assert ordinal_at(text.split(), 0) is None


def test_a_part_without_an_article_is_one_of_it() -> None:
    """A quarter in "quarter inch"; the plural needs a count."""
    part = part_at(["quarter", "inch"], 0)
    assert part is not None
    assert (part.value, part.end, part.denominator) == (Fraction(1, 4), 1, 4)
    assert part_at(["quarters", "inch"], 0) is None
