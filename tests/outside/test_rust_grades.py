"""Rust grades of ASTM D610 and degrees of rusting of ISO 4628-3.

Sources: ASTM D610-08 (reapproved 2012 and 2019), Table 1, bands of rusted share; ISO 4628-3 (2003,
2016), the rusted share its pictures show. Numbers only; neither text is reproduced.
"""

from __future__ import annotations

import pytest

from voicelog.domain.rating import coating_rating, d610_grade, nearest_ri


@pytest.mark.parametrize(
    ("percent", "grade"),
    [
        (0, 10),
        (0.01, 10),
        (0.0101, 9),
        (0.03, 9),
        (0.031, 8),
        (0.1, 8),
        (0.11, 7),
        (0.3, 7),
        (0.31, 6),
        (1.0, 6),
        (1.01, 5),
        (3.0, 5),
        (3.01, 4),
        (10.0, 4),
        (10.1, 3),
        (16.0, 3),
        (16.1, 2),
        (33.0, 2),
        (33.1, 1),
        (50.0, 1),
        (50.1, 0),
        (100, 0),
    ],
)
def test_d610_bands_exclude_their_lower_limit(percent: float, grade: int) -> None:
    """ASTM D610 Table 1, both sides of every limit."""
    assert d610_grade(percent) == grade


@pytest.mark.parametrize(
    ("percent", "ri", "grade"),
    [(0, 0, 10), (0.05, 1, 8), (0.5, 2, 6), (1, 3, 6), (8, 4, 4), (40, 5, 1), (50, 5, 1)],
)
def test_the_pictures_of_iso_4628_3(percent: float, ri: int, grade: int) -> None:
    """The shares the pictures show, and the D610 grade of the same share (by its Table 1)."""
    assert nearest_ri(percent) == ri
    assert d610_grade(percent) == grade


def test_the_two_scales_are_only_roughly_the_same() -> None:
    """Pictures are no bands: every rating says so, and Ri 2 and Ri 3 share one D610 grade."""
    half, one = coating_rating(0.5), coating_rating(1.0)
    assert half.approximate
    assert one.approximate
    assert (half.d610, half.ri) != (one.d610, one.ri)
    assert half.d610 == one.d610


def test_more_rust_never_raises_a_grade() -> None:
    """D610 falls and Ri rises from no rust to rust all over; each grade and picture is reached."""
    ratings = [coating_rating(hundredths / 100) for hundredths in range(10_001)]
    grades, pictures = [r.d610 for r in ratings], [r.ri for r in ratings]
    assert grades == sorted(grades, reverse=True)
    assert pictures == sorted(pictures)
    assert set(grades) == set(range(11))
    assert set(pictures) == set(range(6))


@pytest.mark.parametrize("percent", [-0.01, 100.01, float("nan")])
def test_what_is_no_share_has_no_grade(percent: float) -> None:
    """The scales end at 0 and at 100 %."""
    with pytest.raises(ValueError, match="no share"):
        coating_rating(percent)
