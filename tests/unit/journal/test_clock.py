"""Time as a journal keeps it."""

from __future__ import annotations

import time
from datetime import UTC, datetime, timedelta, timezone

import pytest

from voicelog.journal import clock


def test_rfc3339_has_milliseconds_and_z() -> None:
    """Whatever the zone, the text is UTC, to the millisecond even on the second."""
    east = timezone(timedelta(hours=5, minutes=30))
    moment = datetime(2026, 3, 14, 1, 5, 30, 250_900, tzinfo=east)
    assert clock.rfc3339(moment) == "2026-03-13T19:35:30.250Z"
    assert clock.rfc3339(datetime(2026, 3, 14, tzinfo=UTC)) == "2026-03-14T00:00:00.000Z"


def test_offset_counts_from_zero_by_the_monotonic_clock(monkeypatch: pytest.MonkeyPatch) -> None:
    """Only the monotonic clock moves it."""
    monkeypatch.setattr(time, "monotonic", lambda: 1000.0)
    offset = clock.Offset()
    monkeypatch.setattr(time, "monotonic", lambda: 1002.34567)
    assert offset.now_s() == 2.346


def test_offset_goes_on_after_a_pause(monkeypatch: pytest.MonkeyPatch) -> None:
    """The pause between two programs is taken from the wall clock."""
    monkeypatch.setattr(time, "monotonic", lambda: 5.0)
    monkeypatch.setattr(clock, "utc_now", lambda: datetime(2026, 3, 14, 9, 1, tzinfo=UTC))
    assert clock.Offset.after(7.5, "2026-03-14T09:00:00.000Z").now_s() == 67.5


def test_a_clock_set_back_is_no_pause(monkeypatch: pytest.MonkeyPatch) -> None:
    """Seconds since the opening never fall."""
    monkeypatch.setattr(time, "monotonic", lambda: 5.0)
    monkeypatch.setattr(clock, "utc_now", lambda: datetime(1999, 1, 1, tzinfo=UTC))
    assert clock.Offset.after(7.5, "2026-03-14T09:00:00.000Z").now_s() == 7.5
