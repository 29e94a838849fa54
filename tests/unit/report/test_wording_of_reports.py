"""Times, numbers and lists that read the same everywhere."""

from __future__ import annotations

import pytest

from voicelog.report.wording import (
    counted,
    entries_of,
    grouped,
    in_local_time,
    listed,
    short,
    with_numbers,
)


@pytest.mark.parametrize(
    ("at", "ahead", "told"),
    [
        ("2026-01-05T08:00:00Z", 0, "5 January 2026, 08:00:00 (UTC)"),
        ("2026-01-05T23:30:00.250Z", 60, "6 January 2026, 00:30:00 (UTC+01:00)"),
        ("2026-01-05T02:00:00Z", -210, "4 January 2026, 22:30:00 (UTC−03:30)"),
        ("2026-01-05T08:00:00", 60, "5 January 2026, 08:00:00 (UTC+01:00)"),
        ("yesterday", 60, "yesterday"),
        ("0001-01-01T00:00:00Z", -60, "0001-01-01T00:00:00Z"),
    ],
)
def test_times_are_local_with_their_offset_spelled(at: str, ahead: int, told: str) -> None:
    """Nobody can take the fifth of January for the first of May, or one zone for another."""
    assert in_local_time(at, {"utc_offset_min": ahead}) == told


def test_nonsense_for_an_offset_counts_as_none() -> None:
    """A log may hold anything there."""
    assert in_local_time("2026-01-05T08:00:00Z", {"utc_offset_min": "1e9"}).endswith("(UTC)")
    assert in_local_time("2026-01-05T08:00:00Z", {"utc_offset_min": 10**9}).endswith("(UTC)")


@pytest.mark.parametrize(
    ("number", "told"),
    [(82400, "82 400"), (25.0, "25"), (24.26, "24.26"), (1234567.5, "1 234 567.5"), (0.05, "0.05")],
)
def test_numbers_have_points_and_spaces_in_every_locale(number: float, told: str) -> None:
    """A comma would be a decimal mark to half of the readers."""
    assert grouped(number) == told


def test_counts_have_their_noun() -> None:
    """One finding, two findings, and plurals that are not regular."""
    assert counted(1, "{count} finding", "{count} findings") == "1 finding"
    assert counted(2, "{count} finding", "{count} findings") == "2 findings"
    assert counted(2, "{count} entry", "{count} entries") == "2 entries"


def test_long_lists_count_their_rest() -> None:
    """Nothing is left out without a word."""
    assert listed(["a", "b", "c"], 2) == "a, b and 1 more"
    assert listed(["a", "b"], 2) == "a, b"


def test_entries_become_numbers_on_the_drawing() -> None:
    """A reader has the drawing, not the log; an entry without a number is left out."""
    numbers = {"e2.1": 4, "e3.1": 1}
    assert (
        with_numbers("Mid rail, rotten (e2.1, e3.1)", numbers) == "Mid rail, rotten (findings 4, 1)"
    )
    assert with_numbers("Mid rail (e2.1)", numbers) == "Mid rail (finding 4)"
    assert with_numbers("Mid rail (e9.1)", numbers) == "Mid rail"
    assert with_numbers("Mid rail (rotten)", numbers) == "Mid rail (rotten)"
    assert entries_of(["a (e2.1, e3.1)", "b"]) == {"e2.1", "e3.1"}


def test_what_has_no_room_ends_in_dots() -> None:
    """Never longer than asked."""
    assert short("abcdef", 6) == "abcdef"
    assert short("abc, defgh", 6) == "abc…"
