"""Two clocks: what EXIF says, what somebody types, and what claims and shots suggest."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta, timezone

import pytest

from voicelog.errors import UsageFault
from voicelog.review.photo_clock import (
    Shot,
    difference,
    difference_text,
    estimate,
    exif_time,
    put_right,
    span,
)

CET, CEST = timezone(timedelta(hours=1)), timezone(timedelta(hours=2))
NOON = datetime(2026, 3, 29, 12, tzinfo=UTC)


def test_the_offset_in_the_picture_holds_over_the_logs() -> None:
    """The clocks changed during the night: the log's offset is of yesterday, the picture's is right."""
    told = exif_time("2026:03:29 14:05:30", "25", "+02:00", CET)
    assert told == (datetime(2026, 3, 29, 12, 5, 30, 250_000, tzinfo=UTC), False)


def test_without_an_offset_the_logs_is_assumed_and_said_so() -> None:
    """Local time means nothing without it."""
    assert exif_time("2026:03:29 14:05:30", "", "", CEST) == (
        NOON.replace(minute=5, second=30),
        True,
    )


@pytest.mark.parametrize(
    "text",
    ["", "0000:00:00 00:00:00", "2026:02:30 10:00:00", "2026:03:29 25:00:00", "   :  :     :  :  ",
     "1066:10:14 09:00:00", "2026-03-29 14:05:30", "２０２６:03:29 14:05:30", "2026:03:29 14:05:30\x1b"],
)  # fmt: skip
def test_nonsense_is_no_time(text: str) -> None:
    """Nothing is guessed from it."""
    assert exif_time(text, "", "", CET) is None


@pytest.mark.parametrize("offset", ["+99:99", "here", "+1", "Z", "+15:00"])
def test_a_nonsense_offset_counts_as_none(offset: str) -> None:
    """The time itself may be right all the same."""
    told = exif_time("2026:03:29 14:05:30", "x", offset, CET)
    assert told is not None
    assert told[1]


@pytest.mark.parametrize(
    ("text", "seconds"),
    [("+2m30s", 150), ("2m30s", 150), ("-1h", -3600), ("+1h 5m", 3900), ("90s", 90),
     ("-0.5s", -0.5), ("+9000d", 777_600_000), ("2min", 120), ("0s", 0)],
)  # fmt: skip
def test_a_difference_is_read(text: str, seconds: float) -> None:
    """Ahead without a sign; days for a camera whose clock began anew."""
    assert difference(text).total_seconds() == seconds


@pytest.mark.parametrize("text", ["", "+", "5", "2:30", "1h-2m", "+99999d", "later", "1e9s"])
def test_what_is_no_difference_is_refused(text: str) -> None:
    """With the way to write it."""
    with pytest.raises(UsageFault, match="clock"):
        difference(text)


@pytest.mark.parametrize("text", ["+2m30s", "-1h", "+1d2h3m4s", "+0s"])
def test_a_difference_is_written_as_it_is_read(text: str) -> None:
    """What is proposed can be pasted."""
    assert difference_text(difference(text)) == text


def test_spans_tell_their_two_largest_parts() -> None:
    """Nobody needs the seconds of a day."""
    assert [span(s) for s in (0.2, 59, 150, 3600, 90_061)] == [
        "0 s",
        "59 s",
        "2 min 30 s",
        "1 h",
        "1 d 1 h",
    ]


def test_only_the_cameras_clock_is_put_right() -> None:
    """A file's own time comes from the computer."""
    ahead = timedelta(seconds=150)
    assert put_right(Shot("a", NOON), ahead).taken == NOON - ahead
    assert put_right(Shot("a", NOON, weak=True), ahead).taken == NOON
    assert put_right(Shot("a", None), ahead).taken is None


def _claims(*at_s: float) -> list[datetime]:
    return [NOON + timedelta(seconds=s) for s in at_s]


def _shots(*at_s: float, weak: bool = False) -> list[Shot]:
    return [Shot(str(n), NOON + timedelta(seconds=s), weak) for n, s in enumerate(at_s)]


def test_claims_and_shots_that_line_up_suggest_a_difference() -> None:
    """Six claims, five shots an hour and twenty seconds late, a stray one."""
    found = estimate(_shots(3624, 3687, 3742, 3899, 4121, 9000), _claims(0, 61, 120, 275, 498, 700))
    assert found is not None
    assert found.ahead.total_seconds() == pytest.approx(3620, abs=4)
    assert (found.hits, found.claims) == (5, 6)
    assert found.confidence > 0.5


def test_somebody_who_shoots_all_the_time_suggests_nothing() -> None:
    """A picture every ten seconds lines up with anything."""
    assert estimate(_shots(*range(0, 900, 10)), _claims(0, 61, 120, 275, 498)) is None


def test_few_claims_and_file_times_suggest_nothing() -> None:
    """Two may be luck; a copy's time is none of the camera's."""
    assert estimate(_shots(124, 187), _claims(0, 61)) is None
    assert estimate(_shots(124, 187, 242, 399, weak=True), _claims(0, 61, 120, 275)) is None
    assert estimate([], []) is None


def test_a_burst_counts_once() -> None:
    """Nine shots of one claim are one claim that lines up."""
    assert estimate(_shots(*range(100, 109)), _claims(0, 5000, 9000)) is None
