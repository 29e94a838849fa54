"""How a spoken length is told again."""

from __future__ import annotations

import pytest

from voicelog.domain.told_length import told_number


@pytest.mark.parametrize(
    ("worked_out_mm", "told"),
    [
        (24.26, 24), (152.4, 152), (19.05, 19), (9.525, 9.5), (3.175, 3.2), (0.02, 0.02), (10, 10),
        (12.5, 12.5), (13.5, 13.5), (12.7, 13), (0.254, 0.25), (0.001, 0.001), (9.97, 10),
    ],
)  # fmt: skip
def test_sizes_are_told_as_somebody_would_tell_them(worked_out_mm: float, told: float) -> None:
    """A coin and a foot are no tenths of a millimetre, a half was said so; nothing becomes nothing."""
    assert told_number(worked_out_mm, "size_mm") == told


@pytest.mark.parametrize(
    ("slot", "value", "told"),
    [
        ("thickness_mm", 2.032, 2.03), ("thickness_mm", 1.999, 1.99), ("nominal_mm", 3.0378, 3.04),
        ("loss_percent", 33.123, 33.123), ("area_percent", 12.4, 12.4), ("count", 12.2, 12.2),
    ],
)  # fmt: skip
def test_walls_keep_hundredths_and_all_that_is_no_length_stays(
    slot: str, value: float, told: float
) -> None:
    """A gauge reads them, and what is left is never told as more than it is."""
    assert told_number(value, slot) == told


@pytest.mark.parametrize("absurd", [1e30, -1e30, float("inf")])
def test_no_number_is_too_absurd(absurd: float) -> None:
    """A log may hold whatever a number can be."""
    assert told_number(absurd, "thickness_mm") == absurd
    assert told_number(absurd, "size_mm") == absurd
