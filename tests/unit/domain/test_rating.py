"""Ratings of rusted surface and lost wall."""

from __future__ import annotations

import pytest

from voicelog.domain.rating import (
    CoatingCondition,
    CoatingRating,
    coating_rating,
    d610_grade,
    imo_condition,
    nearest_ri,
    wall_loss_percent,
)


def test_one_share_on_three_scales() -> None:
    """A rating told by eye is always marked approximate."""
    assert coating_rating(8) == CoatingRating(d610=4, ri=4, imo=CoatingCondition.FAIR)
    assert coating_rating(8).approximate


def test_more_rust_never_rates_better() -> None:
    """All three scales move one way over the whole range, in steps of a tenth of a percent."""
    shares = [tenth / 10 for tenth in range(1001)]
    conditions = list(CoatingCondition)
    grades = [d610_grade(share) for share in shares]
    pictures = [nearest_ri(share) for share in shares]
    imo = [conditions.index(imo_condition(share)) for share in shares]
    assert grades == sorted(grades, reverse=True)
    assert pictures == sorted(pictures)
    assert imo == sorted(imo)


@pytest.mark.parametrize(
    ("share", "ri"), [(0.0001, 1), (0.275, 2), (0.75, 3), (4.5, 4), (24, 5), (100, 5)]
)
def test_between_two_pictures_the_nearer_counts_and_at_half_way_the_worse(
    share: float, ri: int
) -> None:
    """Any rust at all is at least Ri 1."""
    assert nearest_ri(share) == ri


@pytest.mark.parametrize("share", [-0.1, 100.1, float("nan")])
def test_a_share_outside_0_to_100_is_refused(share: float) -> None:
    """No scale answers for what cannot be."""
    for rate in (d610_grade, nearest_ri, imo_condition, coating_rating):
        with pytest.raises(ValueError, match="no share of a surface"):
            rate(share)


def test_wall_loss_is_not_clipped() -> None:
    """A reading over nominal is a negative loss."""
    assert wall_loss_percent(2.5, 1.9) == pytest.approx(24.0)
    assert wall_loss_percent(2.0, 2.1) == pytest.approx(-5.0)
    assert wall_loss_percent(2.0, 0.0) == 100.0


@pytest.mark.parametrize(("nominal", "measured"), [(0, 1), (-1, 1), (2, -0.1), (float("nan"), 1)])
def test_wall_loss_of_nonsense_is_refused(nominal: float, measured: float) -> None:
    """A nominal thickness of nothing, or a negative reading."""
    with pytest.raises(ValueError, match="no loss from"):
        wall_loss_percent(nominal, measured)
