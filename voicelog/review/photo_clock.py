"""Two clocks: when a picture was taken by the camera's, and how far that one is off."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import datetime, timedelta, timezone

from voicelog.errors import UsageFault
from voicelog.tongue import worded

_TAKEN = re.compile(r"(\d{4}):(\d\d):(\d\d)[ T](\d\d):(\d\d):(\d\d)", re.ASCII)
_OFFSET = re.compile(r"([+-])(\d\d):(\d\d)", re.ASCII)
_YEARS = range(1970, 2101)
"""What a camera's clock can say; one that lost its battery begins at one of the first."""
_DIFFERENCE = re.compile(
    r"([+-]?)(?:(\d{1,5})d)?(?:(\d{1,5})h)?(?:(\d{1,6})m(?:in)?)?(?:(\d{1,8}(?:\.\d{1,3})?)s)?",
    re.ASCII,
)

_TOGETHER_S = 12.0
"""How far apart shots follow their claims where one clock difference explains all (ours)."""
_APART_S = 60.0
"""Differences further apart than this are different explanations (ours)."""
_FEWEST = 3
"""Claims that have to line up before a difference is proposed (ours)."""
_SURE_ENOUGH = 0.4


@dataclass(frozen=True, slots=True)
class Shot:
    """A picture, for the matching.

    Args:
        name: the file, as it is told to people.
        taken: when, with its offset; None where nothing tells.
        weak: only the file's own time tells, and copying may have changed that.
        assumed: the camera named no time zone, and the log's was taken.
    """

    name: str
    taken: datetime | None
    weak: bool = False
    assumed: bool = False


@dataclass(frozen=True, slots=True)
class Proposal:
    """A clock difference under which pictures and claims would line up.

    Args:
        ahead: how far the camera's clock would be ahead.
        hits: claims that would have a shot.
        claims: how many there are.
        confidence: 0 to 1; little where another difference explains nearly as many.
    """

    ahead: timedelta
    hits: int
    claims: int
    confidence: float


def exif_time(
    taken: str, subsecond: str, offset: str, default: timezone
) -> tuple[datetime, bool] | None:
    """What the EXIF texts of a picture say of when it was taken (CIPA DC-008, 4.6.6.4).

    Args:
        taken: DateTimeOriginal, for example ``2026:03:14 09:05:30``.
        subsecond: SubSecTimeOriginal, digits behind the decimal point.
        offset: OffsetTimeOriginal, for example ``+01:00``.
        default: what is taken for a time zone where ``offset`` names none.

    Returns:
        The moment, and whether ``default`` was needed; None where it is no time.
    """
    found, zone = _TAKEN.fullmatch(taken), _zone(offset)
    if found is None or int(found[1]) not in _YEARS:
        return None
    fraction = f"{subsecond:0<6.6}" if subsecond.isascii() and subsecond.isdigit() else "0"
    year, month, day, *clock = map(int, found.groups())
    try:
        moment = datetime(year, month, day, clock[0], clock[1], clock[2], int(fraction))
    except ValueError:
        return None
    moment = moment.replace(tzinfo=zone or default)
    return moment, zone is None


def difference(text: str) -> timedelta:
    """How far a camera's clock is ahead of the log's, for example ``+2m30s``; behind with a minus.

    Raises:
        UsageFault: it is no such thing.
    """
    found = _DIFFERENCE.fullmatch(text.replace(" ", ""))
    if found is None or not any(found.groups()[1:]):
        raise UsageFault(
            worded("{text} is no clock difference", text=repr(text)),
            worded(
                "Write how far the camera's clock is ahead, like +2m30s, or -1h where it is behind"
            ),
        )
    days, hours, minutes, seconds = (float(part or 0) for part in found.groups()[1:])
    size = timedelta(days=days, hours=hours, minutes=minutes, seconds=seconds)
    if abs(size) > timedelta(days=60_000):
        raise UsageFault(
            worded("{text} is longer than any clock can be off", text=repr(text)),
            worded("Check its numbers"),
        )
    return -size if found[1] == "-" else size


def difference_text(ahead: timedelta) -> str:
    """The same the way :func:`difference` reads it, to the second."""
    seconds = round(abs(ahead.total_seconds()))
    parts = ((seconds // 86_400, "d"), (seconds // 3600 % 24, "h"), (seconds // 60 % 60, "m"))
    told = "".join(f"{n}{unit}" for n, unit in (*parts, (seconds % 60, "s")) if n) or "0s"
    return f"{'-' if ahead < timedelta(0) else '+'}{told}"


def span(seconds: float) -> str:
    """A length of time in words, for example ``2 min 30 s``; the two largest parts of it."""
    whole = round(abs(seconds))
    sizes = ((86_400, "d"), (3600, "h"), (60, "min"), (1, "s"))
    parts = [
        f"{whole // size % limit} {unit}"
        for (size, unit), limit in zip(sizes, _LIMITS, strict=True)
        if whole // size % limit
    ]
    return " ".join(parts[:2]) or "0 s"


_LIMITS = (100_000, 24, 60, 60)


def put_right(shot: Shot, ahead: timedelta) -> Shot:
    """The shot by the log's clock; a file's own time is the computer's, and stays."""
    if shot.taken is None or shot.weak:
        return shot
    return replace(shot, taken=shot.taken - ahead)


def estimate(shots: Sequence[Shot], claims: Sequence[datetime]) -> Proposal | None:
    """The clock difference under which the most claims have a shot shortly after them.

    It is a guess to be shown, never to be used unasked: somebody who takes pictures all the time
    lines up with anything.

    Args:
        shots: by the camera's clock.
        claims: when somebody said that they took a picture.

    Returns:
        None where too few line up, or another difference would do as well.
    """
    gaps = sorted(
        ((shot.taken - claim).total_seconds(), number)
        for shot in shots
        if shot.taken is not None and not shot.weak
        for number, claim in enumerate(claims)
    )
    windows = list(_windows(gaps))
    if not windows:
        return None
    hits, at_s = max(windows, key=lambda window: window[0])
    rival = max((n for n, other_s in windows if abs(other_s - at_s) > _APART_S), default=0)
    confidence = round(hits / len(claims) * (1 - rival / (hits + 1)), 2)
    if hits < _FEWEST or confidence < _SURE_ENOUGH:
        return None
    return Proposal(timedelta(seconds=round(at_s)), hits, len(claims), confidence)


def _windows(gaps: Sequence[tuple[float, int]]) -> Iterator[tuple[int, float]]:
    """For each stretch of gaps: how many claims it holds, and its middle less a usual delay."""
    inside: Counter[int] = Counter()
    first = 0
    for last, (gap, claim) in enumerate(gaps):
        inside[claim] += 1
        while gap - gaps[first][0] > _TOGETHER_S:
            inside[gaps[first][1]] -= 1
            inside += Counter()  # forgets what came down to nothing
            first += 1
        yield len(inside), gaps[(first + last) // 2][0] - USUAL_DELAY_S


USUAL_DELAY_S = 5.0
"""From saying it to the shot (ours)."""


def _zone(offset: str) -> timezone | None:
    found = _OFFSET.fullmatch(offset)
    if found is None or int(found[2]) > 14 or int(found[3]) > 59:
        return None
    size = timedelta(hours=int(found[2]), minutes=int(found[3]))
    return timezone(-size if found[1] == "-" else size)
