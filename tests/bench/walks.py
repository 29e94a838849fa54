"""Simulated walks with a camera: what was said and when, the pictures taken, and which are found again.

Everything is made up from a seed: sentences of the demo in their order, some followed by a further
remark on the same place, some by a claim that a picture was taken, and the pictures themselves. The
delays are guesses of ours; nobody's real walk has been measured.
"""

from __future__ import annotations

import random
from collections import Counter
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import UTC, datetime, timedelta
from typing import Any

from voicelog.config.grammar import Grammar
from voicelog.config.settings import Settings
from voicelog.domain.entry import Entry, Finding, Kind
from voicelog.domain.zone import ZoneMap
from voicelog.review.photo_clock import USUAL_DELAY_S, Proposal, Shot, estimate, put_right
from voicelog.review.photo_matching import match, moment_of
from voicelog.review.pictures import places_of
from voicelog.runtime.session import Session

BEGUN = datetime(2026, 3, 14, 9, tzinfo=UTC)
AHEAD_S = 150.0
"""How far the camera's clock is ahead where it is off."""
REACH_S = 600.0
"""The plain ways look no further than the matching does."""

FURTHER = ("surface rust on top", "probed it, firm", "scale on the bottom", "there's a dent in it")
CLAIMS = ("take a photo of that", "take a photo", "taking a picture of that")
_LEFT_OUT = ("logbook", "photo", "correction", "disregard", "finish")
_APART_S, _DELAY_S, _UNSAID_S, _BURST_S = (5.0, 20.0), (2.0, 15.0), (0.0, 20.0), (1.0, 4.0)
_SAID_MORE, _CLAIMED, _UNSAID = 0.3, 0.35, 0.2
"""How often an utterance is followed by another on its place, a claim, a picture without one."""
_SHOWN = (Kind.FINDING, Kind.CLEAR, Kind.NOT_SEEN, Kind.PHOTO)

CLAIM, NO_CLAIM, OTHER_DAY = "announced", "not announced", "of other days"
RIGHT, WRONG, UNMATCHED = "right", "wrong", "unmatched"

Found = Mapping[str, tuple[str, ...]]
"""The entries that each picture is taken to show, by its name."""
Way = Callable[[Sequence[Shot], Sequence[Finding], ZoneMap], Found]


@dataclass(frozen=True)
class Picture:
    """A picture, and what it is really of.

    Args:
        shot: by the camera's clock.
        kind: :data:`CLAIM`, :data:`NO_CLAIM` or :data:`OTHER_DAY`.
        shows: the entry that was spoken of when it was taken; None on other days.
    """

    shot: Shot
    kind: str
    shows: Entry | None = None


@dataclass(frozen=True)
class Walk:
    """One inspection on foot.

    Args:
        findings: as they stand at its end.
        pictures: in no order.
    """

    findings: tuple[Finding, ...]
    pictures: tuple[Picture, ...]


def sentences(manifest: Mapping[str, Any]) -> list[str]:
    """What the demo says of places: no chatter, commands, corrections or claims."""
    said = (u["text"] for u in manifest["utterances"] if not u["chatter"])
    return [text for text in said if not any(word in text for word in _LEFT_OUT)]


def walk(seed: int, said: Sequence[str], grammar: Grammar) -> Walk:
    """A walk along some of the sentences; the same for the same seed."""
    chance = random.Random(seed)
    session = Session(Settings(), grammar, now=lambda at_s: BEGUN + timedelta(seconds=at_s))
    pictures, at_s, free_s = list(_of_other_days(chance)), 0.0, 0.0
    for text in _utterances(said, chance):
        at_s += chance.uniform(*_APART_S)
        touched = [f.entry for f in session.read(text, at_s=at_s).findings]
        for entry in [one for one in touched if one.kind in _SHOWN][-1:]:
            taken = list(_taken(entry, at_s, free_s, chance))
            pictures += taken
            free_s = max([free_s, *map(_done_s, taken)])
    named = (replace(p, shot=replace(p.shot, name=f"{n:03}.jpg")) for n, p in enumerate(pictures))
    return Walk(session.inspection().findings, tuple(named))


def _utterances(said: Sequence[str], chance: random.Random) -> Iterator[str]:
    for text in said:
        if chance.random() < 0.8:
            yield text
            if chance.random() < _SAID_MORE:
                yield chance.choice(FURTHER)
            if chance.random() < _CLAIMED:
                yield chance.choice(CLAIMS)


def _taken(entry: Entry, at_s: float, free_s: float, chance: random.Random) -> Iterator[Picture]:
    """One to three after a claim; sometimes one after anything else. What was shot before is done."""
    claimed = entry.kind is Kind.PHOTO
    if not claimed and chance.random() >= _UNSAID:
        return
    at_s = max(free_s, at_s + chance.uniform(*(_DELAY_S if claimed else _UNSAID_S)))
    for _ in range(chance.randint(1, 3) if claimed else 1):
        yield Picture(_shot(at_s), CLAIM if claimed else NO_CLAIM, entry)
        at_s += chance.uniform(*_BURST_S)


def _done_s(picture: Picture) -> float:
    """When the camera can be at the next thing."""
    assert picture.shot.taken is not None
    return (picture.shot.taken - BEGUN).total_seconds() + _BURST_S[1]


def _of_other_days(chance: random.Random) -> Iterator[Picture]:
    for _ in range(chance.randint(1, 4)):
        days = chance.choice((-1, 1)) * chance.uniform(0.5, 300)
        yield Picture(_shot(days * 86_400), OTHER_DAY)


def _shot(at_s: float) -> Shot:
    """To the second, as most cameras write it."""
    return Shot("", BEGUN + timedelta(seconds=int(at_s)))


def off(one: Walk, ahead_s: float) -> Walk:
    """The same walk, photographed with a clock that is ahead."""
    shots = [put_right(p.shot, timedelta(seconds=-ahead_s)) for p in one.pictures]
    return replace(
        one, pictures=tuple(replace(p, shot=s) for p, s in zip(one.pictures, shots, strict=True))
    )


def calibrated(one: Walk) -> Walk:
    """The clock put right by the first picture after a claim, as ``--calibrate PICTURE=ENTRY`` does,
    the usual delay taken off; some seconds stay.
    """
    first = min(
        (p for p in one.pictures if p.kind == CLAIM), key=lambda p: p.shot.taken or BEGUN,
        default=None,
    )  # fmt: skip
    if first is None or first.shows is None or first.shot.taken is None:
        return one
    ahead_s = (first.shot.taken - moment_of(first.shows)).total_seconds() - USUAL_DELAY_S
    return off(one, -ahead_s)


def proposal(one: Walk) -> Proposal | None:
    """The clock difference that would be proposed to the person."""
    live = (f for f in one.findings if not f.withdrawn)
    claims = [moment_of(f.entry) for f in live if f.entry.kind is Kind.PHOTO]
    return estimate([p.shot for p in one.pictures], claims)


def as_proposed(one: Walk) -> Walk:
    """The proposed difference taken, where there is one."""
    found = proposal(one)
    return one if found is None else off(one, -found.ahead.total_seconds())


def matching(shots: Sequence[Shot], findings: Sequence[Finding], zone_map: ZoneMap) -> Found:
    """As ``voicelog photos`` does it."""
    found = match(shots, findings, zone_map, place=lambda slots: str(slots.get("zone", "")))
    return {one.shot.name: one.entries for one in found}


def nearest(shots: Sequence[Shot], findings: Sequence[Finding], _: ZoneMap) -> Found:
    """The plain way: the entry nearest in time."""
    return {shot.name: _closest(shot, findings, abs) for shot in shots}


def spoken_last(shots: Sequence[Shot], findings: Sequence[Finding], _: ZoneMap) -> Found:
    """Another plain way: the entry spoken last before the shot."""
    after = lambda gap: gap if gap >= 0 else REACH_S + 1  # noqa: E731
    return {shot.name: _closest(shot, findings, after) for shot in shots}


def _closest(
    shot: Shot, findings: Sequence[Finding], far: Callable[[float], float]
) -> tuple[str, ...]:
    shown = [f.entry for f in findings if not f.withdrawn and f.entry.kind in _SHOWN]
    assert shot.taken is not None
    gaps = [(far((shot.taken - moment_of(entry)).total_seconds()), entry.id) for entry in shown]
    gap, name = min(gaps, default=(REACH_S + 1, ""))
    return (name,) if gap <= REACH_S else ()


WAYS: Mapping[str, Way] = {
    "voicelog": matching, "entry nearest in time": nearest, "entry spoken last": spoken_last,
}  # fmt: skip


def scored(one: Walk, way: Way, zone_map: ZoneMap) -> Counter[tuple[str, str]]:
    """How many pictures of each kind were matched right, wrong, or not at all."""
    found = way([p.shot for p in one.pictures], one.findings, zone_map)
    entries = {f.entry.id: f.entry for f in one.findings}
    return Counter(
        (p.kind, judged(p, [entries[name] for name in found[p.shot.name]], zone_map))
        for p in one.pictures
    )


def judged(picture: Picture, shown: Sequence[Entry], zone_map: ZoneMap) -> str:
    """What became of a picture; right is the entry that it shows, or another of the same place.

    Args:
        picture: with what it really shows.
        shown: what it was taken to show, the likeliest first.
        zone_map: the places.
    """
    if picture.shows is None:
        return WRONG if shown else RIGHT
    if not shown:
        return UNMATCHED
    same = shown[0].id == picture.shows.id
    shared = set(places_of(shown[0], zone_map)) & set(places_of(picture.shows, zone_map))
    return RIGHT if same or shared else WRONG
