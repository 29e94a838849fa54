"""Coins and units.

Sources: United States Mint, coin specifications, diameters in mm and in inches; NIST SP 811,
appendix B.8, for the exact inch, foot and thousandth of an inch.
"""

from __future__ import annotations

from fractions import Fraction

import pytest

from voicelog.domain.reading import Speech
from voicelog.interpret.measures import measure_at


def _mm(said: str) -> float:
    found = measure_at(said.split(), 0, Speech())
    assert found is not None, said
    assert found.end == len(said.split()), said
    return found.value


def _exact(said: str) -> Fraction:
    """Number by unit, both as the reader has them: no rounding on the way."""
    found = measure_at(said.split(), 0, Speech())
    assert found is not None, said
    assert found.unit_mm is not None, said
    return found.number * Fraction(str(found.unit_mm))


@pytest.mark.parametrize(
    ("coin", "mm", "inches"),
    [
        ("penny", 19.05, 0.750),
        ("nickel", 21.21, 0.835),
        ("dime", 17.91, 0.705),
        ("quarter", 24.26, 0.955),
        ("half dollar", 30.61, 1.205),
        ("dollar", 26.49, 1.043),
    ],
)
def test_us_coins_have_the_mints_diameters(coin: str, mm: float, inches: float) -> None:
    """Millimetres as published; the inches published beside them agree to 0.01 mm."""
    assert _mm(f"the size of a {coin}") == mm
    assert abs(mm - inches * 25.4) <= 0.01


def test_a_quarter_is_a_coin_only_in_a_comparison() -> None:
    """24.26 mm, beside 19.05 mm for three quarters of an inch."""
    assert _mm("size of a quarter") == 24.26
    assert _mm("three quarters of an inch") == 19.05
    assert _mm("a quarter inch") == 6.35


@pytest.mark.parametrize(
    ("said", "mm"),
    [
        ("an inch", "25.4"),
        ("a foot", "304.8"),
        ("a thou", "0.0254"),
        ("twelve inches", "304.8"),
        ("a thousand thou", "25.4"),
        ("sixty two thou", "1.5748"),
        ("one sixteenth", "1.5875"),
        ("one sixty fourth", "0.396875"),
        ("one thirty second", "0.79375"),
        ("a sixteenth of an inch", "1.5875"),
        ("three thirty seconds", "2.38125"),
        ("an eighth", "3.175"),
        ("three sixteenths", "4.7625"),
        ("a quarter inch", "6.35"),
        ("five sixteenths", "7.9375"),
        ("three eighths", "9.525"),
        ("half an inch", "12.7"),
    ],
)
def test_inches_are_exact(said: str, mm: str) -> None:
    """As fractions, to the last digit."""
    assert _exact(said) == Fraction(mm)
    assert _mm(said) == float(Fraction(mm))


def test_sixty_two_thou_is_not_a_sixteenth() -> None:
    """They differ by 0.0127 mm, and stay different."""
    assert _exact("one sixteenth") - _exact("sixty two thou") == Fraction("0.0127")
