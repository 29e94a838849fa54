"""Time as a journal keeps it: the wall clock for people, a clock that never goes back for order."""

from __future__ import annotations

import time
from datetime import UTC, datetime


def utc_now() -> datetime:
    """The wall clock, in UTC."""
    return datetime.now(UTC)


def rfc3339(moment: datetime) -> str:
    """A moment in UTC as RFC 3339 with milliseconds, for example ``2026-03-14T09:05:30.250Z``."""
    return moment.astimezone(UTC).isoformat(timespec="milliseconds").replace("+00:00", "Z")


class Offset:
    """Seconds since a log was opened.

    Args:
        begun_s: what it starts from; above zero when the log is opened again.
    """

    def __init__(self, begun_s: float = 0.0) -> None:
        self._begun_s = begun_s
        self._since = time.monotonic()

    @classmethod
    def after(cls, last_s: float, last_at: str) -> Offset:
        """Goes on from a log's last line.

        The monotonic clock of that process is gone, so the pause is taken from the wall clock; one
        that was set back counts as no pause.
        """
        pause = utc_now() - datetime.fromisoformat(last_at)
        return cls(last_s + max(0.0, pause.total_seconds()))

    def now_s(self) -> float:
        """Seconds, to the millisecond."""
        return round(self._begun_s + time.monotonic() - self._since, 3)
