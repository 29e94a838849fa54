"""Units, gauges and coins."""

from __future__ import annotations

from fractions import Fraction

import pytest

from voicelog.interpret.coins import COINS_MM, coin_at
from voicelog.interpret.units import GALVANISED_GAUGE_IN, GAUGE_IN, Unit, gauge_mm, unit_at


@pytest.mark.parametrize(
    ("text", "name", "mm"),
    [
        ("mm", "mm", 1),
        ("millimetres", "mm", 1),
        ("millimeters", "mm", 1),
        ("millimetre's", "mm", 1),
        ("millimbers", "mm", 1),
        ("milli metres", "mm", 1),
        ("m m", "mm", 1),
        ("mil", "mm", 1),
        ("mills", "mm", 1),
        ("centimetres", "cm", 10),
        ("metre", "m", 1000),
        ("inch", "inch", Fraction("25.4")),
        ("inches", "inch", Fraction("25.4")),
        ("thou", "thou", Fraction("0.0254")),
        ("thousandths", "thou", Fraction("0.0254")),
        ("thousandths of an inch", "thou", Fraction("0.0254")),
        ("thousands of an inch", "thou", Fraction("0.0254")),
        ("thousandths of a millimetre", "micron", Fraction(1, 1000)),
        ("feet", "foot", Fraction("304.8")),
        ("percent", "percent", None),
        ("per cent", "percent", None),
        ("gauge", "gauge", None),
        ("gage", "gauge", None),
    ],
)
def test_every_name_of_a_unit(text: str, name: str, mm: Fraction | int | None) -> None:
    """Written, spoken and misheard names, to the last word."""
    expected = None if mm is None else Fraction(mm)
    assert unit_at(text.split(), 0) == Unit(name, expected, len(text.split()))


def test_a_mil_is_what_the_speaker_says_it_is() -> None:
    """A millimetre unless the setting says a thousandth of an inch; thou is never asked."""
    mil, thou = unit_at(["mil"], 0, mil="thou"), unit_at(["thou"], 0, mil="millimetre")
    assert mil is not None
    assert thou is not None
    assert mil.mm == thou.mm == Fraction("0.0254")


@pytest.mark.parametrize("text", ["in", "in the web", "mill scale", "thousand", "hole", ""])
def test_what_is_no_unit(text: str) -> None:
    """The preposition "in", mill scale the condition, a thousand the number."""
    assert unit_at(text.split(), 0) is None


def test_gauges_outside_the_table_have_no_thickness() -> None:
    """7 to 24 for bare sheet, 8 to 24 galvanised."""
    assert gauge_mm(16) == Fraction("0.0598") * Fraction("25.4")
    assert gauge_mm(16, galvanised=True) == Fraction("0.0635") * Fraction("25.4")
    assert [gauge_mm(6), gauge_mm(25), gauge_mm(7, galvanised=True)] == [None] * 3
    assert (min(GAUGE_IN), max(GAUGE_IN)) == (7, 24)
    assert (min(GALVANISED_GAUGE_IN), max(GALVANISED_GAUGE_IN)) == (8, 24)


@pytest.mark.parametrize(
    ("text", "name"),
    [
        ("the size of a quarter", "quarter"),
        ("size of a quarter", "quarter"),
        ("size of quarter", "quarter"),
        ("as big as a dime", "dime"),
        ("quarter sized", "quarter"),
        ("quarter-sized", "quarter"),
        ("dime size", "dime"),
        ("a penny sized", "penny"),
        ("as big as a half dollar", "half dollar"),
        ("size of a fifty cent piece", "half dollar"),
        ("size of a nickel", "nickel"),
        ("size of a dollar coin", "dollar"),
        ("size of a pound coin", "pound"),
        ("size of a 5 p", "five pence"),
        ("as big as a ten pence piece", "ten pence"),
    ],
)
def test_a_coin_in_a_comparison_is_a_size(text: str, name: str) -> None:
    """The whole phrase is taken, "coin" or "piece" included."""
    coin = coin_at(text.split(), 0)
    assert coin is not None
    assert (coin.name, coin.mm, coin.end) == (name, COINS_MM[name], len(text.split()))


@pytest.mark.parametrize(
    "text",
    [
        "quarter",
        "a quarter",
        "a quarter inch",
        "three quarters of an inch",
        "quarter panel",
        "size of a quarter panel",
        "size of a quarter of an inch",
        "size of a quarter inch",
        "size of a dollar bill",
        "size of a fist",
        "size of a",
    ],
)
def test_a_coin_is_no_size_elsewhere(text: str) -> None:
    """Fractions and quarter panels share the coin's name."""
    assert coin_at(text.split(), 0) is None
