"""Odometer readings as people write them, and what is none."""

from __future__ import annotations

import pytest

from voicelog.domain.vehicle import FARTHEST, Odometer, Vehicle, odometer_of


@pytest.mark.parametrize(
    ("text", "reading"),
    [
        ("82 400 mi", (82_400, "mi")),
        ("82,400 Miles", (82_400, "mi")),
        ("131452km", (131_452, "km")),
        ("131.452 kilometres", (131_452, "km")),
        ("82400.5 mi", (82_400.5, "mi")),
        ("1'234'567 km", (1_234_567, "km")),
        (" 0 km ", (0, "km")),
        ("82400", (82_400, "")),
        (f"{FARTHEST} km", (FARTHEST, "km")),
    ],
)
def test_a_reading_as_it_is_written(text: str, reading: tuple[float, str]) -> None:
    """Groups of three or none, one decimal, the unit last or missing."""
    assert odometer_of(text) == reading


@pytest.mark.parametrize(
    "text",
    [
        "", "km", "-5 km", "82,40 mi", "82.400,5 km", "about 80000 mi", "82400 furlongs", "8e4 km",
        "٣٤٠٠٠ km", "82400 mi; rm -rf", "\x1b[31m82400 mi", f"{FARTHEST + 1} km", "9" * 400, "nan km",
    ],
)  # fmt: skip
def test_what_is_no_reading(text: str) -> None:
    """Negative, wrongly grouped, out of bounds, other digits, hostile."""
    assert odometer_of(text) is None


@pytest.mark.parametrize("reading", [Odometer(82_400, "mi"), Odometer(131_452.5, "km")])
def test_a_reading_reads_again_as_it_is_told(reading: Odometer) -> None:
    """What a remark keeps is what the fold makes of it."""
    assert odometer_of(str(reading)) == (reading.value, reading.unit)


def test_a_mile_is_the_international_one() -> None:
    """NIST SP 811, B.8: 1 609.344 m."""
    assert Odometer(1_000, "mi").km == pytest.approx(1_609.344, rel=1e-12)


def test_a_vehicle_is_known_by_more_than_its_name() -> None:
    """When it was inspected and what it was called stand in the verdict's block anyway."""
    assert not Vehicle(described="pickup", inspected_on="2026-03-14T08:05:30.250Z").known
    assert Vehicle(plate="AB1").known
    assert Vehicle(inspector="Sam").known
