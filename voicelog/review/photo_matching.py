"""Which entry a picture shows: by the time it was taken, by place, and by what was claimed.

Pure. All figures here are ours: they put the order of likelihoods right (said so, then shot; shot
while speaking of a place; shot some time later) and are shown with their reasons, never believed
unseen.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, field
from datetime import datetime
from itertools import pairwise

from voicelog.domain.entry import Entry, Finding, Kind
from voicelog.domain.slot import Slots
from voicelog.domain.zone import ZoneMap
from voicelog.review.photo_clock import Shot, span
from voicelog.review.pictures import places_of

LEAST = 0.5
"""Below this confidence a picture counts as unmatched."""

_CLAIM = (
    (-120, 0.0), (-30, 0.3), (-10, 0.6), (-2, 0.9), (0, 0.95), (45, 0.95), (180, 0.5), (600, 0.0),
)  # fmt: skip
_SPOKEN = (
    (-120, 0.0), (-60, 0.3), (-20, 0.5), (-3, 0.6), (0, 0.7), (15, 0.68), (60, 0.55), (180, 0.4),
    (400, 0.0),
)  # fmt: skip
"""Seconds from an entry to the shot, and how likely the shot is of it; straight lines between."""
_REACH_S = 600.0
_BURST_S = 10.0
"""Shots closer than this are of one thing."""
_AT_ONCE_S = 45.0
"""A shot this soon after a claim is of it, whatever was said meanwhile."""
_MOVED_ON, _SERVED = 0.7, 0.5
_WEAK = 0.6
_CLOSE_CALL = 0.3
"""Less than this between the likeliest and another place makes the likeliest less sure."""
_VISIT_S = 180.0
"""How long before a claim its place can have been spoken of."""
_MOST = 4

_SHOWABLE = (Kind.FINDING, Kind.CLEAR, Kind.NOT_SEEN, Kind.PHOTO)


@dataclass(frozen=True, slots=True)
class Match:
    """What a picture is taken to show.

    Args:
        shot: the picture, its time by the log's clock.
        entries: ids, the likeliest first; empty where it is unmatched.
        confidence: 0 to 1; of an unmatched one, that of its best guess.
        because: why, as short sentences.
    """

    shot: Shot
    entries: tuple[str, ...]
    confidence: float
    because: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class _Spoken:
    """An entry on the clock."""

    at: datetime
    entry: Entry


@dataclass(slots=True)
class _Walk:
    """The entries that a picture can show, in the order in which they were spoken."""

    spoken: Sequence[_Spoken]
    zone_map: ZoneMap
    place: Callable[[Slots], str]
    served: dict[str, datetime] = field(default_factory=dict)

    def around(self, moment: datetime) -> Sequence[_Spoken]:
        first = bisect_left(self.spoken, moment.timestamp() - _REACH_S, key=_stamp)
        return self.spoken[
            first : bisect_right(self.spoken, moment.timestamp() + _REACH_S, key=_stamp)
        ]

    def before(self, moment: datetime) -> _Spoken | None:
        number = bisect_right(self.spoken, moment.timestamp(), key=_stamp)
        return self.spoken[number - 1] if number else None

    def same(self, one: Entry, other: Entry) -> bool:
        """True where both speak of one place, and not of different faces of it."""
        faces = {e.slots["face"] for e in (one, other) if "face" in e.slots}
        shared = set(places_of(one, self.zone_map)) & set(places_of(other, self.zone_map))
        return bool(shared) and len(faces) < 2


def match(
    shots: Iterable[Shot],
    findings: Iterable[Finding],
    zone_map: ZoneMap,
    *,
    place: Callable[[Slots], str],
    least: float = LEAST,
) -> tuple[Match, ...]:
    """Each picture with the entries it likely shows, in the order in which they were taken.

    A claim weighs most: the shots around and shortly after it are of it. Without one the entry
    counts that was spoken nearest in time. Two places nearly as likely make both less sure, and
    so does a file that knows no time but its own.

    Args:
        shots: the pictures, by the log's clock.
        findings: all entries; those that hold and can be seen count.
        zone_map: their places.
        place: names a place, for a sentence.
        least: a picture less sure than this stays unmatched.
    """
    spoken = [_Spoken(moment_of(f.entry), f.entry) for f in findings if _can_be_shown(f)]
    walk = _Walk(sorted(spoken, key=_stamp), zone_map, place)
    ordered = sorted(shots, key=lambda shot: (shot.taken is None, _when(shot), shot.name))
    return tuple(_matched(shot, walk, least) for shot in ordered)


def moment_of(entry: Entry) -> datetime:
    """When an entry was spoken."""
    return datetime.fromisoformat(entry.at)


def _can_be_shown(finding: Finding) -> bool:
    return not finding.withdrawn and finding.entry.kind in _SHOWABLE


def _stamp(spoken: _Spoken) -> float:
    return spoken.at.timestamp()


def _when(shot: Shot) -> float:
    return shot.taken.timestamp() if shot.taken is not None else 0.0


def _matched(shot: Shot, walk: _Walk, least: float) -> Match:
    if shot.taken is None:
        return Match(shot, (), 0.0, ("nothing tells when it was taken",))
    ranked = _ranked(shot.taken, walk)
    if not ranked or ranked[0][0] <= 0:
        return Match(shot, (), 0.0, (_nothing_near(shot.taken, walk), *_hint(shot)))
    sure, best = ranked[0]
    rival = next((pair for pair in ranked[1:] if not walk.same(pair[1].entry, best.entry)), None)
    because = [_told(shot.taken, best, walk)]
    if rival is not None and sure - rival[0] < _CLOSE_CALL:
        sure *= 0.65 + 0.35 * (sure - rival[0]) / _CLOSE_CALL
        because.append(f"it may be of {rival[1].entry.id}, another place")
    if shot.weak:
        sure *= _WEAK
    because += _hint(shot)
    return _settled(shot, best, round(sure, 2), because, walk, least)


def _ranked(taken: datetime, walk: _Walk) -> list[tuple[float, _Spoken]]:
    """The entries around a shot, the likeliest first, of equals the nearest."""
    found = ((_likelihood(taken, one, walk), one) for one in walk.around(taken))
    return sorted(found, key=lambda pair: (-pair[0], abs(_gap_s(taken, pair[1]))))


def _settled(
    shot: Shot, best: _Spoken, sure: float, because: list[str], walk: _Walk, least: float
) -> Match:
    if sure < least:
        return Match(shot, (), sure, (*because, "too little to match it"))
    if best.entry.kind is Kind.PHOTO and shot.taken is not None:
        walk.served[best.entry.id] = shot.taken
    others = _also_shown(best, walk)
    if others:
        because.append(f"{', '.join(others)} is of the same place")
    return Match(shot, (best.entry.id, *others), sure, tuple(because))


def _likelihood(taken: datetime, spoken: _Spoken, walk: _Walk) -> float:
    """How likely the shot is of the entry; less where the talk was of another place since, and
    least where a claim has had its shot already.
    """
    gap, claim = _gap_s(taken, spoken), spoken.entry.kind is Kind.PHOTO
    sure = _between(gap, _CLAIM if claim else _SPOKEN)
    served = walk.served.get(spoken.entry.id)
    burst = served is not None and (taken - served).total_seconds() <= _BURST_S
    if not sure or gap <= 0 or burst or (claim and served is None and gap <= _AT_ONCE_S):
        return sure
    last = walk.before(taken)
    if last is None or walk.same(last.entry, spoken.entry):
        return sure
    return sure * (_MOVED_ON if served is None else _SERVED)


def _gap_s(taken: datetime, spoken: _Spoken) -> float:
    return (taken - spoken.at).total_seconds()


def _between(gap: float, line: Sequence[tuple[float, float]]) -> float:
    """The height of a line of straight pieces; nothing beyond its ends."""
    for (left, low), (right, high) in pairwise(line):
        if left <= gap <= right:
            return low + (high - low) * (gap - left) / (right - left)
    return 0.0


def _also_shown(best: _Spoken, walk: _Walk) -> tuple[str, ...]:
    """What else was said of the place during the same visit, the nearest in time first."""
    near = [
        (abs((other.at - best.at).total_seconds()), other.entry)
        for other in walk.around(best.at)
        if other.entry is not best.entry and walk.same(other.entry, best.entry)
        if other.entry.kind is not Kind.PHOTO or best.entry.kind is not Kind.PHOTO
    ]
    chosen = sorted((pair for pair in near if pair[0] <= _VISIT_S), key=lambda pair: pair[0])
    return tuple(entry.id for _, entry in chosen[: _MOST - 1])


def _told(taken: datetime, spoken: _Spoken, walk: _Walk) -> str:
    gap, entry = _gap_s(taken, spoken), spoken.entry
    when = f"{span(gap)} {'after' if gap > 0 else 'before'}" if round(gap) else "just when"
    what = "a photo of it was announced" if entry.kind is Kind.PHOTO else "it was spoken of"
    return f"taken {when} {what}: {walk.place(entry.slots)} ({entry.id})"


def _hint(shot: Shot) -> tuple[str, ...]:
    return ("only the file's own time tells when it was taken",) if shot.weak else ()


def _nothing_near(taken: datetime, walk: _Walk) -> str:
    if not walk.spoken:
        return "the log has no entry that a picture could show"
    near = min(walk.spoken, key=lambda one: abs(_gap_s(taken, one)))
    gap = _gap_s(taken, near)
    return (
        f"taken {span(gap)} {'after' if gap >= 0 else 'before'} the nearest entry ({near.entry.id})"
    )
