"""The camera's clock against the log's: given, found by one picture, or only guessed at."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta, timezone

from voicelog.domain import local_time
from voicelog.domain.entry import Kind
from voicelog.domain.inert import inert
from voicelog.errors import UsageFault
from voicelog.review.photo_clock import (
    USUAL_DELAY_S,
    Proposal,
    Shot,
    difference,
    difference_text,
    estimate,
)
from voicelog.review.photo_matching import moment_of
from voicelog.runtime.picture_files import Folder, weak_and_assumed
from voicelog.runtime.review import Review
from voicelog.tongue import worded, worded_many

_TIME = re.compile(r"\d{1,2}:\d\d(:\d\d)?", re.ASCII)
_ENTRY = re.compile(r"e\d+\.\d+", re.ASCII)
_WORTH_S = 30.0
"""A smaller difference changes no matching worth speaking of (ours)."""


@dataclass(frozen=True, slots=True)
class Clock:
    """How the camera's clock is read.

    Args:
        ahead: how far it is ahead of the log's.
        told: how that is known, and what was assumed, as sentences.
        proposal: a difference that would fit better, which nobody has asked for.
    """

    ahead: timedelta = timedelta(0)
    told: tuple[str, ...] = ()
    proposal: Proposal | None = None


def zone_of(review: Review) -> timezone:
    """The time zone of the machine that opened the log; this machine's where it does not say."""
    here = timezone(datetime.now().astimezone().utcoffset() or timedelta())
    return local_time.zone_of(review.facts[0].body, here)


def read_clock(
    review: Review, folder: Folder, shots: Sequence[Shot], *, given: str = "", calibrate: str = ""
) -> Clock:
    """How far the camera's clock is ahead, and what that rests on.

    Args:
        review: the log.
        folder: the pictures.
        shots: the same, by the camera's clock.
        given: the difference, as somebody wrote it.
        calibrate: ``PICTURE=TIME`` or ``PICTURE=ENTRY``: one picture whose moment is known.

    Raises:
        UsageFault: both are given, or one cannot be understood.
    """
    if given and calibrate:
        raise UsageFault(
            worded("A clock difference is given and a picture to find it"), worded("Leave one out")
        )
    assumed = _assumptions(review, shots)
    if given:
        ahead = difference(given)
        told = worded("The camera's clock is {difference}, as given", difference=_words(ahead))
        return Clock(ahead, (told, *assumed))
    if calibrate:
        ahead, why = _calibrated(review, folder, calibrate)
        told = worded(
            "The camera's clock is {difference}: {why}", difference=_words(ahead), why=why
        )
        return Clock(ahead, (told, *assumed))
    found = _proposal(review, shots)
    right = (worded("The camera's clock is taken to be right"),)
    return Clock(timedelta(0), (*right, *assumed, *_proposed(found)), found)


def _words(ahead: timedelta) -> str:
    if abs(ahead) < timedelta(seconds=1):
        return worded("right")
    time = difference_text(ahead)[1:]
    if ahead > timedelta(0):
        return worded("{time} ahead", time=time)
    return worded("{time} behind", time=time)


def _calibrated(review: Review, folder: Folder, text: str) -> tuple[timedelta, str]:
    name, _, known = text.rpartition("=")
    found, known = folder.named(name), known.strip()
    shot = found.shot(zone_of(review))
    if shot.weak or shot.taken is None:
        raise UsageFault(
            worded("{name} does not tell when it was taken", name=repr(inert(name, 80))),
            worded("Calibrate with another picture"),
        )
    if _ENTRY.fullmatch(known):
        entry = review.finding(known).entry
        claimed = timedelta(seconds=USUAL_DELAY_S if entry.kind is Kind.PHOTO else 0)
        moment = moment_of(entry) + claimed
    else:
        moment = _moment(known, shot.taken)
    told = worded("{name} was taken at {moment}", name=found.name, moment=known)
    return shot.taken - moment, inert(told)


def _moment(text: str, near: datetime) -> datetime:
    """A time somebody wrote: of the picture's day and zone where it names none."""
    try:
        if _TIME.fullmatch(text):
            clock = datetime.strptime(text, "%H:%M:%S" if text.count(":") == 2 else "%H:%M")
            moment = near.replace(
                hour=clock.hour, minute=clock.minute, second=clock.second, microsecond=0
            )
            days = round((near - moment) / timedelta(days=1))
            return moment + timedelta(days=days)
        moment = datetime.fromisoformat(text)
    except ValueError:
        raise UsageFault(
            worded("{text} is neither a time nor an entry", text=repr(inert(text, 80))),
            worded("Write it like 09:05:30, 2026-03-14T09:05:30+01:00 or e9.1"),
        ) from None
    return moment if moment.tzinfo is not None else moment.replace(tzinfo=near.tzinfo)


def _proposal(review: Review, shots: Sequence[Shot]) -> Proposal | None:
    live = review.inspection().live
    claims = [moment_of(f.entry) for f in live if f.entry.kind is Kind.PHOTO]
    found = estimate(shots, claims)
    worth = found is not None and abs(found.ahead.total_seconds()) > _WORTH_S
    return found if worth else None


def _proposed(found: Proposal | None) -> tuple[str, ...]:
    if found is None:
        return ()
    return (
        worded(
            "{hits} of {claims} announced photos would have a picture if the camera's clock were"
            " {difference} (confidence {confidence}): nothing was corrected; if you think so too, say"
            " {option}, else {other}",
            hits=found.hits,
            claims=found.claims,
            difference=_words(found.ahead),
            confidence=f"{found.confidence:.0%}",
            option=f'--clock-difference="{difference_text(found.ahead)}"',
            other="--clock-difference=+0s",
        ),
    )


def _assumptions(review: Review, shots: Sequence[Shot]) -> tuple[str, ...]:
    weak, assumed = weak_and_assumed(shots)
    told = []
    if assumed:
        zone = zone_of(review).tzname(None).removeprefix("UTC") or "+00:00"
        told.append(
            worded_many(
                "1 picture names no time zone: {zone} assumed, the log's own",
                "{count} pictures name no time zone: {zone} assumed, the log's own",
                assumed,
                zone=zone,
            )
        )
    if weak:
        told.append(
            worded_many(
                "1 picture does not tell when taken: only the file's own time is used, a weak hint",
                "{count} pictures do not tell when taken: only the file's own time is used, a weak hint",
                weak,
            )
        )
    if _counts_from_reading(review):
        told.append(
            worded(
                "The log is of a recording, and its times count from when that was read: calibrate"
                " with a picture of an entry (--calibrate PICTURE=ENTRY)"
            )
        )
    return tuple(told)


def _counts_from_reading(review: Review) -> bool:
    """True where entries were spoken after their lines were written, which no live log has."""
    written = {f.body.get("utterance"): f.at for f in review.facts if f.type == "utterance"}
    late = (
        moment_of(f.entry) - datetime.fromisoformat(written[f.entry.utterance])
        for f in review.inspection().live
        if f.entry.utterance in written
    )
    return max(late, default=timedelta(0)) > timedelta(seconds=5)
