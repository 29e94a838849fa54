"""Times for people: as the clock had them where the vehicle stood, always with the zone.

A log keeps UTC, and in its first line how far the clock of the place was ahead of that. Whatever a
person reads, on a screen, in lines or in a report, is worded here; programs get RFC 3339.
"""

from __future__ import annotations

from collections.abc import Mapping
from datetime import UTC, datetime, timedelta, timezone
from typing import Any

from voicelog.tongue import Worded, as_it_is, to_word, worded

_MONTHS = (
    to_word("January"), to_word("February"), to_word("March"), to_word("April"), to_word("May"),
    to_word("June"), to_word("July"), to_word("August"), to_word("September"), to_word("October"),
    to_word("November"), to_word("December"),
)  # fmt: skip
_DAY_MIN = 24 * 60


def zone_of(opened: Mapping[str, Any], otherwise: timezone = UTC) -> timezone:
    """The zone of the place where a log was opened.

    Args:
        opened: what its first line says; ``utc_offset_min`` holds minutes ahead of UTC.
        otherwise: holds where it does not say, or not sensibly.
    """
    ahead = opened.get("utc_offset_min")
    if type(ahead) is int and abs(ahead) < _DAY_MIN:
        return timezone(timedelta(minutes=ahead))
    return otherwise


def stamp(at: str, zone: timezone, *, seconds: bool = False) -> str:
    """A time for a line of text, for example ``2026-03-14 09:05 UTC+01:00``.

    Args:
        at: RFC 3339; a text that is no time comes back as it is.
        zone: of the place, as :func:`zone_of` gives it.
        seconds: tell them as well.
    """
    local = _local(at, zone)
    if local is None:
        return at
    return f"{local:%Y-%m-%d %H:%M:%S %Z}" if seconds else f"{local:%Y-%m-%d %H:%M %Z}"


def time_of_day(at: str, zone: timezone) -> str:
    """Hours, minutes and seconds, for example ``09:05:30``; for where the zone stands beside it."""
    local = _local(at, zone)
    return at if local is None else f"{local:%H:%M:%S}"


def day_in(at: str, zone: timezone) -> str:
    """A day and the zone in which it was that day, for example ``2026-03-14 UTC+01:00``."""
    local = _local(at, zone)
    return at if local is None else f"{local:%Y-%m-%d %Z}"


def told_in(at: str, zone: timezone) -> str:
    """The same moment in RFC 3339, told in that zone."""
    local = _local(at, zone)
    return at if local is None else local.isoformat(timespec="milliseconds")


def in_words(at: str, zone: timezone) -> Worded:
    """A time for a page, for example ``14 March 2026, 09:05:30 (UTC+01:00)``."""
    local = _local(at, zone)
    if local is None:
        return as_it_is(at)
    ahead = f"{local:%Z}".replace("-", "−")
    return worded(
        "{date}, {time} ({zone})", date=_date(local), time=f"{local:%H:%M:%S}", zone=ahead
    )


def _date(day: datetime) -> Worded:
    """A date that nobody can take for another, for example ``5 January 2026``."""
    month = worded(_MONTHS[day.month - 1])
    return worded("{day} {month} {year}", day=day.day, month=month, year=day.year)


def _local(at: str, zone: timezone) -> datetime | None:
    try:
        then = datetime.fromisoformat(at)
        return then.astimezone(zone) if then.tzinfo else then.replace(tzinfo=zone)
    except (ValueError, OverflowError):
        return None
