"""Rate of wall loss and years left, against worked examples in public files.

The formulas are those of API 510, 570 and 653, which are not open: rate = (previous - present) /
years, remaining life = (present - least) / rate. Sources that quote and work them, both in the public
records of San Joaquin County (California), Environmental Health Department:

- record 575814, page 628 (waste oil tank, 2009), https://lfweb.sjgov.org/EHD/0/doc/575814/Page628.aspx:
  readings, average rates and life expectancies in full;
- record 261636, page 226 (tank shell, 2013), https://lfweb.sjgov.org/EHD/0/doc/261636/Page226.aspx:
  N = (t prev - t act) / Y and RCA = t act - t min in symbols, and a shell that reads over its
  original thickness.
"""

from __future__ import annotations

import pytest

from voicelog.findings.over_time.rate import rate_of

READ_MM = (5.5, 5.4, 5.4, 5.5, 5.6, 5.7, 5.7, 5.5, 5.4, 5.4, 5.3, 5.6, 5.4, 5.5, 5.5)
"""Fifteen readings of the tank in page 628, as printed."""

LEAST_MM = 2.36 + 0.8
"""The shell's minimum, and the 0.8 mm that the page takes off every reading for its coating."""


def test_average_rate_and_life_expectancy_of_the_tank() -> None:
    """5.8 mm when new, 5.4933 mm after 4 years: 0.076666667 mm a year, 30.43478261 years."""
    average = sum(READ_MM) / len(READ_MM)
    assert average == pytest.approx(5.493333333)
    rate = rate_of(5.8, average, 4.0, (0.0, 0.0), LEAST_MM)
    assert rate.mm_per_year == pytest.approx(0.076666667, rel=1e-7)
    assert rate.years_left == pytest.approx(30.43478261, rel=1e-7)
    assert rate.years_left_least == rate.years_left


def test_average_rate_and_life_expectancy_of_its_containment() -> None:
    """7.2 mm when new, 7.02 mm after 4 years: 0.045 mm a year, 85.77777778 years."""
    rate = rate_of(7.2, 7.02, 4.0, (0.0, 0.0), LEAST_MM)
    assert rate.mm_per_year == pytest.approx(0.045)
    assert rate.years_left == pytest.approx(85.77777778, rel=1e-7)


@pytest.mark.parametrize(
    ("previous_in", "present_in"),
    [(0.375, 0.385), (0.375, 0.383), (0.250, 0.253), (0.250, 0.258), (0.250, 0.251)],
)
def test_a_shell_that_reads_over_its_original_thickness_has_lost_nothing(
    previous_in: float, present_in: float
) -> None:
    """Page 226 prints a loss of 0.000 for all five courses; here it is told as what it is: thicker."""
    rate = rate_of(previous_in * 25.4, present_in * 25.4, 6.0, (0.0, 0.0), 0.1 * 25.4)
    assert rate.mm_per_year < 0
    assert not rate.is_loss
    assert rate.years_left is None


def test_uncertainties_of_both_readings_add_as_bounds() -> None:
    """Arithmetic: 3.0 and 2.4 mm, each 0.1 mm off at most, leave 0.4 to 0.8 mm lost in two years."""
    rate = rate_of(3.0, 2.4, 2.0, (0.1, 0.1), 2.0)
    low = (3.0 - 0.1) - (2.4 + 0.1)
    high = (3.0 + 0.1) - (2.4 - 0.1)
    assert rate.mm_per_year - rate.uncertainty_mm_per_year == pytest.approx(low / 2)
    assert rate.mm_per_year + rate.uncertainty_mm_per_year == pytest.approx(high / 2)
    assert rate.years_left_least == pytest.approx((2.4 - 0.1 - 2.0) / (high / 2))
