"""Lost wall against figures in open documents.

Sources: US Army TB 55-1900-201-45/1, appendix E, which reprints US Coast Guard NVIC 7-68 (1968);
IMO 2011 ESP Code, annex A part B, 8.2; UK MOT inspection manual (DVSA, GOV.UK), 1.1.11.
"""

from __future__ import annotations

import pytest

from voicelog.domain.rating import wall_loss_percent

INCH_MM = 25.4


@pytest.mark.parametrize(
    ("nominal_in", "measured_in", "loss_percent"),
    [(0.1875, 0.1406, 25.0), (0.1196, 0.090, 24.7), (0.375, 0.31875, 15.0)],
)
def test_loss_of_plate(nominal_in: float, measured_in: float, loss_percent: float) -> None:
    """The general limit of 25 %, 11 gauge sheet at 0.090 in, and the light-hull limit of 15 %."""
    loss = wall_loss_percent(nominal_in * INCH_MM, measured_in * INCH_MM)
    assert round(loss, 1) == loss_percent


def test_new_plate_over_its_nominal_thickness() -> None:
    """E-11: 3/16 in plate may measure 0.205 in; that is a gain and is told as one."""
    loss = wall_loss_percent(0.1875 * INCH_MM, 0.205 * INCH_MM)
    assert round(loss, 1) == -9.3


def test_seventy_percent_remaining_is_thirty_percent_lost() -> None:
    """ESP Code 8.2 states what remains, the tool what is lost."""
    assert wall_loss_percent(10.0, 7.0) == pytest.approx(30.0)


def test_a_third_of_a_brake_pipes_wall() -> None:
    """MOT manual 1.1.11: reject at one third, about 0.25 mm; of a 0.75 mm wall that leaves 0.50."""
    assert wall_loss_percent(0.75, 0.75 - 0.25) == pytest.approx(100 / 3)
    assert wall_loss_percent(0.75, 0.51) < 100 / 3
