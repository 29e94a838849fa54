"""Photographs for a log: matched to its entries and checked, before anything is written."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path

from voicelog.domain.inert import inert
from voicelog.domain.photo import Lack, Photo
from voicelog.errors import InputFault, UsageFault
from voicelog.findings.lacking import lacking
from voicelog.findings.places import place_in_words
from voicelog.review.photo_clock import Shot, put_right
from voicelog.review.photo_matching import LEAST, Match, match
from voicelog.runtime.photo_clocks import Clock, read_clock, zone_of
from voicelog.runtime.picture_files import Folder, noted, pictures_below, whole
from voicelog.runtime.review import Review
from voicelog.tongue import worded

NOTHING = "none"
"""Stands for no entry, where a picture is moved by hand."""


@dataclass(frozen=True, slots=True)
class Wishes:
    """How pictures are to be matched and kept.

    Args:
        difference: how far the camera's clock is ahead, as somebody wrote it.
        calibrate: ``PICTURE=TIME`` or ``PICTURE=ENTRY``.
        by_hand: of ``ENTRY=PICTURE`` each.
        least: a matching less sure than this is none.
        unmatched: keep pictures that show no entry as well.
    """

    difference: str = ""
    calibrate: str = ""
    by_hand: tuple[str, ...] = ()
    least: float = LEAST
    unmatched: bool = False


@dataclass(frozen=True, slots=True)
class Plan:
    """What would be written.

    Args:
        folder: the pictures, and what was passed over.
        clock: how the camera's is read.
        matches: pictures to be kept, in the order in which they were taken.
        unmatched: those that show no entry, with their best guess.
        already: names of pictures that lie in the log, and as what.
        sha256: of each picture to be kept, by name.
        notes: what went wrong with single files, one sentence each.
    """

    folder: Folder
    clock: Clock
    matches: tuple[Match, ...]
    unmatched: tuple[Match, ...]
    already: Mapping[str, Photo]
    sha256: Mapping[str, str]
    notes: tuple[str, ...]


@dataclass(slots=True)
class _Checked:
    """Pictures that were read as a whole."""

    sha256: dict[str, str] = field(default_factory=dict)
    already: dict[str, Photo] = field(default_factory=dict)
    unfit: set[str] = field(default_factory=set)
    notes: list[str] = field(default_factory=list)


def plan_photos(review: Review, folder: Path, wishes: Wishes) -> Plan:
    """Matches the pictures below a folder to a log's entries; writes nothing.

    Raises:
        InputFault: there is no such folder.
        UsageFault: a wish cannot be understood, or names what is not there.
    """
    found, zone = pictures_below(folder, review.folder), zone_of(review)
    shots = [one.shot(zone) for one in found.pictures.values()]
    clock = read_clock(
        review, found, shots, given=wishes.difference, calibrate=wishes.calibrate
    )  # fmt: skip
    right = [put_right(shot, clock.ahead) for shot in shots]
    hands = _by_hand(review, found, wishes.by_hand)
    matched = _matched(review, right, hands, wishes.least)
    checked = _check(matched, review.photos(), found, wishes)
    if checked.unfit:  # what cannot be kept shows nothing, and another may be of the same entry
        right = [shot for shot in right if shot.name not in checked.unfit]
        matched = _matched(review, right, hands, wishes.least)
        _check(matched, review.photos(), found, wishes, checked)
    wanted = [one for one in matched if one.entries or wishes.unmatched]
    kept = tuple(one for one in wanted if one.shot.name in checked.sha256)
    loose = tuple(one for one in matched if one not in wanted)
    notes = (*found.notes, *checked.notes)
    return Plan(found, clock, kept, loose, checked.already, checked.sha256, notes)


def lacks_of(review: Review, plan: Plan | None = None) -> tuple[Lack, ...]:
    """What still lacks its picture; with a plan, as it would be once that is written."""
    planned = [
        Photo(0, "", "", one.shot.name, one.entries) for one in (plan.matches if plan else ())
    ]
    zone_map = review.grammar.zone_map
    return lacking(review.inspection(), (*review.photos(), *planned), zone_map, review.rails)


def _matched(
    review: Review, shots: Sequence[Shot], hands: Mapping[str, tuple[str, ...]], least: float
) -> list[Match]:
    zone_map = review.grammar.zone_map
    found = match(
        shots, review.inspection().findings, zone_map,
        place=lambda slots: place_in_words(slots, zone_map), least=least,
    )  # fmt: skip
    return [
        Match(one.shot, hands[one.shot.name], 1.0, (worded("set by hand"),))
        if one.shot.name in hands
        else one
        for one in found
    ]


def _by_hand(review: Review, folder: Folder, texts: Sequence[str]) -> dict[str, tuple[str, ...]]:
    chosen: dict[str, tuple[str, ...]] = {}
    for text in texts:
        entry, _, name = text.partition("=")
        found = folder.named(name)
        chosen[found.name] = (*chosen.get(found.name, ()), *entries_named(review, entry))
    return chosen


def entries_named(review: Review, text: str) -> tuple[str, ...]:
    """The ids of entries that somebody names, with commas between; none for :data:`NOTHING`.

    Raises:
        UsageFault: there is no such entry, or it was withdrawn.
    """
    if text.strip() == NOTHING:
        return ()
    named = [review.finding(name.strip()) for name in text.split(",")]
    gone = [finding.entry.id for finding in named if finding.withdrawn]
    if gone:
        raise UsageFault(
            worded("{entry} was withdrawn", entry=gone[0]), worded("Name an entry that holds")
        )
    return tuple(finding.entry.id for finding in named)


def _check(
    matched: Sequence[Match],
    photos: Sequence[Photo],
    folder: Folder,
    wishes: Wishes,
    checked: _Checked | None = None,
) -> _Checked:
    """Reads every picture that would be kept: is it whole, and does the log have it already?"""
    checked = checked or _Checked()
    known = {digest: photo for photo in photos for digest in (photo.sha256, photo.original_sha256)}
    seen = {digest: name for name, digest in checked.sha256.items()}
    for one in matched:
        name = one.shot.name
        settled = name in checked.sha256 or name in checked.already
        if settled or not (one.entries or wishes.unmatched):
            continue
        try:
            digest = whole(folder.pictures[name])
        except InputFault as fault:
            checked.notes.append(noted(name, fault))
            checked.unfit.add(name)
            continue
        if digest in known:
            checked.already[name] = known[digest]
        elif digest in seen:
            same = worded("{name}: the same picture as {other}", name=name, other=seen[digest])
            checked.notes.append(inert(same))
        else:
            checked.sha256[name] = digest
            seen[digest] = name
    return checked
