"""Sheet gauges against the weights they are defined by.

Sources: Manufacturers' Standard Gauge for steel sheet, weights in pounds per square foot; 41.82
pounds per square foot for one inch of sheet ("Sheet steel gauges: what they mean", 2009).
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


@pytest.mark.parametrize("gauge", POUNDS)
def test_thickness_is_weight_by_41_82(gauge: int) -> None:
    """Pounds per square foot by 41.82, rounded to four decimals of an inch."""
    inches = round(float(Fraction(POUNDS[gauge]) / Fraction("41.82")), 4)
    assert GAUGE_IN[gauge] == f"{inches:.4f}"


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
