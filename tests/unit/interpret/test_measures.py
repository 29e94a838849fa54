"""Measures among words."""

from __future__ import annotations

from fractions import Fraction

import pytest

from voicelog.domain.reading import Speech
from voicelog.interpret.measures import Measure, measure_at


def _measure(text: str, start: int = 0, speech: Speech | None = None) -> Measure:
    found = measure_at(text.split(), start, speech or Speech())
    assert found is not None, text
    return found


@pytest.mark.parametrize(
    ("text", "mm"),
    [
        ("fifteen millimetres", 15),
        ("15 mm", 15),
        ("two and a half inches", 63.5),
        ("2 1/2 inches", 63.5),
        ("half an inch", 12.7),
        ("half inch", 12.7),
        ("a half inch", 12.7),
        ("an inch", 25.4),
        ("an inch and a half", 38.1),
        ("inch and a half", 38.1),
        ("two inches and three eighths", 60.325),
        ("a foot", 304.8),
        ("a foot and a half", 457.2),
        ("a millimetre", 1),
        ("quarter inch", 6.35),
        ("quarter of an inch", 6.35),
        ("three quarters of an inch", 19.05),
        ("three quarter inch", 19.05),
        ("an eighth of an inch", 3.175),
        ("3/16 inches", 4.7625),
        ("sixty two thou", 1.5748),
        ("sixty two thousandths of an inch", 1.5748),
        ("sixty two thousands of an inch", 1.5748),
        ("one twenty thou", 3.048),
        ("one oh five thou", 2.667),
        ("two o six thou", 5.2324),
        ("point oh six two inches", 1.5748),
        ("a couple of inches", 50.8),
        ("5 foot 2 inches", 1574.8),
        ("five foot and two inches", 1574.8),
        ("one metre twenty centimetres", 1200),
        ("two-inch", 50.8),
        ("point nine of a millimetre", 0.9),
        ("two tenths of a mil", 0.2),
        ("three eights of an inch", 9.525),
        ("the size of a quarter", 24.26),
        ("twice the size of a dime", 35.82),
    ],
)
def test_lengths_come_in_millimetres(text: str, mm: float) -> None:
    """Every way to say a length takes all its words; the value is exact to the float."""
    found = _measure(text)
    assert (found.quantity, found.end, found.approximate) == ("length", len(text.split()), False)
    assert found.value == mm
    assert found.unit_mm is not None


@pytest.mark.parametrize(
    ("text", "number"),
    [
        ("three sixteenths", "3/16"),
        ("an eighth", "1/8"),
        ("two eighths", "1/4"),
        ("five thirty seconds", "5/32"),
        ("3/64", "3/64"),
        ("one and three eighths", "11/8"),
    ],
)
def test_a_bare_fraction_in_eighths_or_finer_is_inches(text: str, number: str) -> None:
    """Nobody says sixteenths of anything else."""
    found = _measure(text)
    assert (found.quantity, found.unit, found.number) == ("length", "inch", Fraction(number))
    assert found.value == float(Fraction(number) * Fraction("25.4"))
    assert found.fraction


@pytest.mark.parametrize("text", ["one", "ten", "2.5", "half", "a quarter", "a third", "zero"])
def test_other_bare_numbers_stay_plain(text: str) -> None:
    """Their unit is for the sentence to settle."""
    found = _measure(text)
    assert (found.quantity, found.unit, found.unit_mm) == ("number", "", None)
    assert found.value == float(found.number)


def test_mil_follows_the_speakers_setting() -> None:
    """Ten mil are 10 mm, or 0.254 mm for somebody who means thousandths."""
    assert _measure("ten mil").value == 10
    assert _measure("ten mil", speech=Speech(mil="thou")).value == 0.254


@pytest.mark.parametrize(
    ("text", "quantity", "percent"),
    [
        ("ten percent", "percent", 10),
        ("ten per cent", "percent", 10),
        ("half a percent", "percent", 0.5),
        ("twenty percent of the surface", "area", 20),
        ("a quarter of the surface", "area", 25),
        ("half of it", "area", 50),
        ("half the panel", "area", 50),
        ("three quarters of the panel", "area", 75),
        ("an eighth of it", "area", 12.5),
        ("half of the thickness", "percent", 50),
        ("half its thickness", "percent", 50),
        ("half of the cross member", "area", 50),
        ("half of the chassis", "area", 50),
        ("a third of this", "area", 100 / 3),
    ],
)
def test_shares(text: str, quantity: str, percent: float) -> None:
    """A share of a surface is an area, a share of a thickness a loss."""
    found = _measure(text)
    assert (found.quantity, found.value, found.unit_mm) == (quantity, percent, None)


def test_a_share_leaves_the_name_of_the_place() -> None:
    """After "two thirds of the", "floor pan" still has to be read as the zone."""
    assert _measure("two thirds of the floor pan").end == 4
    assert _measure("half of the thickness").end == 3


@pytest.mark.parametrize(
    "text", ["half the bolts", "half the time", "half the length", "half that size", "half it"]
)
def test_half_of_something_else_is_no_area(text: str) -> None:
    """Counts and lengths are not surfaces."""
    assert _measure(text).quantity == "number"


@pytest.mark.parametrize(
    ("text", "mm"),
    [
        ("sixteen gauge", 1.51892),
        ("16 ga", 1.51892),
        ("gauge sixteen", 1.51892),
        ("galvanised sixteen gauge", 1.6129),
        ("sixteen gauge galvanized", 1.6129),
    ],
)
def test_gauges_come_in_millimetres(text: str, mm: float) -> None:
    """By the table for steel sheet, or galvanised sheet when that is said."""
    found = _measure(text)
    assert (found.quantity, found.value, found.end) == ("gauge", mm, len(text.split()))
    assert (int(found.number), found.unit_mm) == (16, None)


def test_a_gauge_that_does_not_exist_is_a_bare_number() -> None:
    """Forty gauge is in no table."""
    assert _measure("forty gauge").quantity == "number"


@pytest.mark.parametrize(
    "text",
    [
        "about ten millimetres",
        "roughly ten millimetres",
        "just under ten millimetres",
        "probably about ten millimetres",
        "a good ten millimetres",
        "some ten millimetres",
        "ten millimetres or so",
        "ten or so millimetres",
        "ten-ish millimetres",
        "tenish millimetres",
        "ten millimetres ish",
        "ten millimetres give or take",
        "ten millimetres give or take a mil",
        "ten millimetres plus or minus one",
        "up to ten millimetres",
    ],
)
def test_hedges_belong_to_the_measure(text: str) -> None:
    """Before, within or after: the value stays, and it is approximate."""
    found = _measure(text)
    assert (found.value, found.approximate, found.end) == (10, True, len(text.split()))


@pytest.mark.parametrize(
    "text", ["about", "say again", "maybe surface rust", "some rust", "nearly"]
)
def test_a_hedge_without_a_number_is_no_measure(text: str) -> None:
    """It is a word like any other then."""
    assert measure_at(text.split(), 0, Speech()) is None


@pytest.mark.parametrize(
    ("text", "low", "high"),
    [
        ("ten to fifteen mil", 10, 15),
        ("ten mil to fifteen", 10, 15),
        ("between ten and fifteen millimetres", 10, 15),
        ("anywhere between ten and fifteen millimetres", 10, 15),
        ("from 10 to 15 mm", 10, 15),
        ("10 to 15 percent", 10, 15),
        ("two or three inches", 50.8, 76.2),
        ("an inch or two", 25.4, 50.8),
        ("half an inch to an inch", 12.7, 25.4),
        ("a quarter to three eighths of an inch", 6.35, 9.525),
        ("sixteen or eighteen gauge", 1.21412, 1.51892),
        ("one or two", 1, 2),
        ("two millimetres or two inches", 2, 50.8),
    ],
)
def test_a_range_gives_its_larger_end_and_keeps_the_smaller(
    text: str, low: float, high: float
) -> None:
    """The unit may be said at either end."""
    found = _measure(text)
    assert (found.low, found.value, found.end) == (low, high, len(text.split()))


@pytest.mark.parametrize(
    ("text", "end"),
    [
        ("10 to 2", 1),
        ("ten mil or one hole", 2),
        ("ten percent to three inches", 2),
        ("ten to the left", 1),
        ("two inches and three holes", 2),
    ],
)
def test_what_is_no_range_ends_with_its_first_amount(text: str, end: int) -> None:
    """Falling bare numbers, unlike quantities, and "to" before something else."""
    found = _measure(text)
    assert (found.end, found.low) == (end, None)


@pytest.mark.parametrize(
    ("text", "first", "second"),
    [
        ("six by four inches", 152.4, 101.6),
        ("six inches by four", 152.4, 101.6),
        ("six inches by four inches", 152.4, 101.6),
        ("ten by six mil", 10, 6),
        ("half an inch by an inch", 12.7, 25.4),
        ("6 x 4", 6, 4),
    ],
)
def test_two_dimensions_share_the_unit_said(text: str, first: float, second: float) -> None:
    """The first is the value, the second stands in ``by``."""
    found = _measure(text)
    assert (found.value, found.by, found.end) == (first, second, len(text.split()))


@pytest.mark.parametrize(
    ("text", "end", "value"),
    [
        ("two quarter inch holes", 1, 2),
        ("two ten millimetre holes", 1, 2),
        ("three quarter inch holes", 3, 19.05),
        ("four mill scale patches", 1, 4),
        ("two in the web", 1, 2),
    ],
)
def test_a_count_before_a_size_stays_a_count(text: str, end: int, value: float) -> None:
    """The amount ends where the next one begins."""
    found = _measure(text)
    assert (found.end, found.value) == (end, value)


@pytest.mark.parametrize(
    "text", ["three o'clock", "between the rails", "from the hanger", "a m", "a", ""]
)
def test_what_is_no_measure(text: str) -> None:
    """Clock positions, places, and an article alone."""
    assert measure_at(text.split(), 0, Speech()) is None


def test_indices_count_from_the_utterances_start() -> None:
    """A measure is found exactly where it begins, nowhere before."""
    words = ["hole", "about", "fifteen", "millimetres", "across"]
    found = measure_at(words, 1, Speech())
    assert found is not None
    assert (found.start, found.end) == (1, 4)
    assert measure_at(words, 0, Speech()) is None
