"""Sheet gauges against the weights they are defined by.

Sources: Manufacturers' Standard Gauge for steel sheet, weights in pounds per square foot; 41.82
pounds per square foot for one inch of sheet ("Sheet steel gauges: what they mean", 2009). Galvanised
sheet and millimetres: the charts of https://machinecalcs.com/sheet-metal-gauge-chart and
https://www.zebrasteel.cn/News/view/id/127.html (8 gauge galvanised is also printed as 0.1680).
"""

from __future__ import annotations

from fractions import Fraction

import pytest

from voicelog.domain.reading import Speech
from voicelog.interpret.measures import measure_at
from voicelog.interpret.units import GALVANISED_GAUGE_IN, GAUGE_IN, gauge_mm

POUNDS = {
    7: "7.5",
    8: "6.875",
    9: "6.25",
    10: "5.625",
    11: "5.0",
    12: "4.375",
    13: "3.75",
    14: "3.125",
    15: "2.8125",
    16: "2.5",
    17: "2.25",
    18: "2.0",
    19: "1.75",
    20: "1.5",
    21: "1.375",
    22: "1.25",
    23: "1.125",
    24: "1.0",
}

GALVANISED_IN = {
    8: "0.1681",
    9: "0.1532",
    10: "0.1382",
    11: "0.1233",
    12: "0.1084",
    13: "0.0934",
    14: "0.0785",
    15: "0.0710",
    16: "0.0635",
    17: "0.0575",
    18: "0.0516",
    19: "0.0456",
    20: "0.0396",
    21: "0.0366",
    22: "0.0336",
    23: "0.0306",
    24: "0.0276",
}

STEEL_MM = (
    4.554, 4.176, 3.797, 3.416, 3.038, 2.657, 2.278, 1.897, 1.709,
    1.519, 1.367, 1.214, 1.062, 0.912, 0.836, 0.759, 0.683, 0.607,
)  # fmt: skip
"""7 to 24 gauge, as the metric column prints them."""


@pytest.mark.parametrize("gauge", POUNDS)
def test_thickness_is_weight_by_41_82(gauge: int) -> None:
    """Pounds per square foot by 41.82, rounded to four decimals of an inch."""
    inches = round(float(Fraction(POUNDS[gauge]) / Fraction("41.82")), 4)
    assert GAUGE_IN[gauge] == f"{inches:.4f}"


@pytest.mark.parametrize(("gauge", "mm"), zip(POUNDS, STEEL_MM, strict=True))
def test_millimetres_of_every_gauge(gauge: int, mm: float) -> None:
    """Inches by 25.4, to the three decimals of the chart."""
    found = gauge_mm(gauge)
    assert found is not None
    assert round(float(found), 3) == mm


@pytest.mark.parametrize("gauge", GALVANISED_IN)
def test_galvanised_sheet_is_as_the_chart_prints_it(gauge: int) -> None:
    """In inches, and by the same number in millimetres."""
    assert GALVANISED_GAUGE_IN[gauge] == GALVANISED_IN[gauge]
    assert gauge_mm(gauge, galvanised=True) == Fraction(GALVANISED_IN[gauge]) * Fraction("25.4")


def test_galvanised_sheet_has_no_other_gauge() -> None:
    """The chart has none thicker than 8."""
    assert GALVANISED_GAUGE_IN.keys() == GALVANISED_IN.keys()
    assert gauge_mm(7, galvanised=True) is None


@pytest.mark.parametrize(("gauge", "wrong_in"), [(11, "0.1283"), (24, "0.0278")])
def test_known_misprints_of_galvanised_sheet_are_not_in_the_table(
    gauge: int, wrong_in: str
) -> None:
    """A chart in circulation prints these."""
    assert GALVANISED_GAUGE_IN[gauge] != wrong_in


@pytest.mark.parametrize("gauge", GALVANISED_GAUGE_IN)
def test_galvanised_sheet_is_its_zinc_thicker(gauge: int) -> None:
    """The zinc of both faces is 0.0036 to 0.0039 in on every gauge of the galvanised table."""
    zinc = Fraction(GALVANISED_GAUGE_IN[gauge]) - Fraction(GAUGE_IN[gauge])
    assert Fraction("0.0036") <= zinc <= Fraction("0.0039")


def test_the_table_covers_7_to_24_and_thins_as_it_rises() -> None:
    """A higher number is thinner sheet, bare or galvanised."""
    for table in (GAUGE_IN, GALVANISED_GAUGE_IN):
        thicknesses = [float(table[gauge]) for gauge in sorted(table)]
        assert thicknesses == sorted(thicknesses, reverse=True)
    assert set(GAUGE_IN) == set(POUNDS)


@pytest.mark.parametrize(
    ("said", "mm"), [("sixteen gauge", 1.519), ("ten gauge", 3.416), ("24 gauge", 0.607)]
)
def test_a_gauge_said_gives_the_tables_millimetres(said: str, mm: float) -> None:
    """Rounded to the three decimals the metric column prints."""
    found = measure_at(said.split(), 0, Speech())
    assert found is not None
    assert round(found.value, 3) == mm


@pytest.mark.parametrize(("gauge", "wrong_mm"), [(16, 1.367), (21, 0.826), (23, 0.759)])
def test_known_misprints_are_not_in_the_table(gauge: int, wrong_mm: float) -> None:
    """A chart in circulation prints a neighbour's thickness for these."""
    mm = gauge_mm(gauge)
    assert mm is not None
    assert round(float(mm), 3) != wrong_mm
