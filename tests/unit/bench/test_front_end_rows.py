"""The bench of the front end: how sure a difference is."""

from __future__ import annotations

import pytest
from front_end_rows import chance, interval


def test_an_even_split_is_chance_and_an_uneven_one_is_not() -> None:
    """Two-sided sign test: five of five come up in one of sixteen."""
    assert chance(3, 3) == 1.0
    assert chance(0, 0) == 1.0
    assert chance(5, 0) == chance(0, 5) == pytest.approx(2 / 32)


def test_an_interval_is_drawn_over_texts_and_not_over_clips() -> None:
    """Clips of one text stand or fall together: they say no more than one of them."""
    low, high = interval([[1] * 6, [0] * 6])
    assert (low, high) == (0.0, 100.0)
    assert interval([[1, 1], [1, 1]]) == (100.0, 100.0)
