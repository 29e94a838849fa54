"""Times for people: in the zone of the place, and never without it."""

from __future__ import annotations

from datetime import UTC, timedelta, timezone

import pytest

from voicelog.domain.local_time import day_in, in_words, stamp, time_of_day, told_in, zone_of

AT = "2026-01-05T23:30:00.250Z"
AHEAD, BEHIND = timezone(timedelta(hours=1)), timezone(timedelta(minutes=-210))


def test_each_way_tells_the_place_s_own_day_and_hour() -> None:
    """Half past eleven at night in Greenwich is the next day an hour further east."""
    assert stamp(AT, AHEAD) == "2026-01-06 00:30 UTC+01:00"
    assert stamp(AT, AHEAD, seconds=True) == "2026-01-06 00:30:00 UTC+01:00"
    assert day_in(AT, AHEAD) == "2026-01-06 UTC+01:00"
    assert time_of_day(AT, BEHIND) == "20:00:00"
    assert in_words(AT, BEHIND) == "5 January 2026, 20:00:00 (UTC−03:30)"
    assert told_in(AT, BEHIND) == "2026-01-05T20:00:00.250-03:30"
    assert stamp(AT, UTC) == "2026-01-05 23:30 UTC"


def test_a_time_without_a_zone_is_taken_for_the_place_s() -> None:
    """As a camera writes it."""
    assert stamp("2026-01-05T08:00:00", AHEAD) == "2026-01-05 08:00 UTC+01:00"


@pytest.mark.parametrize("text", ["", "yesterday", "2026-13-01T00:00:00Z", "0001-01-01T00:00:00Z"])
def test_what_is_no_time_comes_back(text: str) -> None:
    """And what no calendar reaches once it is moved by hours."""
    assert {tell(text, BEHIND) for tell in (stamp, day_in, time_of_day, in_words, told_in)} == {
        text
    }


@pytest.mark.parametrize("ahead", [None, "60", True, 24 * 60, -(10**9), 1.5])
def test_a_log_that_does_not_say_its_zone_sensibly(ahead: object) -> None:
    """UTC, or what the caller knows better."""
    assert zone_of({"utc_offset_min": ahead}) is UTC
    assert zone_of({"utc_offset_min": ahead}, AHEAD) is AHEAD
    assert zone_of({"utc_offset_min": -210}) == BEHIND
