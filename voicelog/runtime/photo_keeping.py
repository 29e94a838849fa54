"""Photographs copied into a log, each with its hash and a line of its own; matched anew by hand."""

from __future__ import annotations

import hashlib
from collections.abc import Iterator, Sequence
from dataclasses import replace
from pathlib import Path

from voicelog.domain.inert import inert
from voicelog.domain.photo import PHOTO, Photo, body_of
from voicelog.errors import InputFault, StorageFault, UsageFault
from voicelog.export.picture_place import ending_of, may_hold_place, without_place
from voicelog.journal.photos import write_photo
from voicelog.journal.storage import storing
from voicelog.review.photo_clock import Shot
from voicelog.review.photo_matching import Match
from voicelog.runtime.photo_clocks import Clock, zone_of
from voicelog.runtime.photos import Plan, entries_named
from voicelog.runtime.picture_files import Found, content, noted
from voicelog.runtime.review import Review
from voicelog.tongue import reworded, worded


def write_photos(review: Review, plan: Plan, *, keep_place: bool = False) -> Iterator[Photo | str]:
    """Copies the pictures of a plan into the log, each with its line; a sentence for one that
    cannot be kept, and the others go on.

    The file comes first, then the line: a crash between them leaves a file that no line knows.

    Raises:
        LockedFault, StorageFault: the log cannot be written; what was yielded is kept.
    """
    for one in plan.matches:
        name = one.shot.name
        try:
            yield _write(review, plan, one, keep_place)
        except InputFault as fault:
            yield noted(name, fault)


def move_photo(review: Review, text: str) -> Photo:
    """A picture of the log shows other entries, because somebody says so.

    Args:
        review: the log.
        text: ``PICTURE=ENTRY``, several entries with commas between, ``none`` for no entry; the
            picture by its name in the log, such as ``p42``, or by its original name.

    Raises:
        UsageFault: there is no such picture or entry.
        LockedFault, StorageFault: the log cannot be written.
    """
    name, _, wanted = text.rpartition("=")
    photo = _named(review.photos(), name)
    entries = entries_named(review, wanted)
    moved = replace(
        photo, entries=entries, confidence=1.0, because=(worded("set by hand"),), by=review.by,
    )  # fmt: skip
    if moved.entries == photo.entries and photo.confidence == 1.0:
        raise UsageFault(
            worded("Nothing would change"), worded("{photo} shows this already", photo=photo.name)
        )
    review.note(PHOTO, body_of(moved))
    return moved


def _named(photos: Sequence[Photo], text: str) -> Photo:
    wanted = text.strip()
    meant = [one for one in photos if wanted in (one.name, one.file)]
    meant = meant or [one for one in photos if one.original == wanted]
    if len(meant) == 1:
        return meant[0]
    shown = repr(inert(wanted, 80))
    raise UsageFault(
        worded("{count} pictures of the log were called {name}", count=len(meant), name=shown)
        if meant
        else worded("No picture of the log is called {name}", name=shown),
        worded("Name it like p42"),
    )


def _write(review: Review, plan: Plan, one: Match, keep_place: bool) -> Photo:
    found = plan.folder.pictures[one.shot.name]
    data = content(found)
    original = hashlib.sha256(data).hexdigest()
    if original != plan.sha256[found.name]:
        raise InputFault(
            worded("It was changed while it was looked at"), worded("Run the command again")
        )
    data, ending, location = _as_kept(data, keep_place)
    seq = review.next_seq
    file, sha256 = write_photo(review.folder, seq, data, ending)
    _read_back(review.folder / file, sha256, location)
    photo = Photo(
        seq, file, sha256, _plain_name(found), one.entries, _taken(review, one.shot),
        one.confidence, (*one.because, *_of_clock(plan.clock, one.shot)), location, review.by,
        original,
    )  # fmt: skip
    review.note(PHOTO, body_of(photo))
    return photo


def _as_kept(data: bytes, keep_place: bool) -> tuple[bytes, str, str]:
    """The file as the log gets it, its ending, and what became of the place of taking."""
    if not may_hold_place(data):
        return data, ending_of(data), "none"
    if keep_place:
        return data, ending_of(data), "kept"
    return *without_place(data), "stripped"


def _read_back(path: Path, sha256: str, location: str) -> None:
    """What lies on the disk is looked at once more, before a line vouches for it.

    Raises:
        StorageFault: it is not what was written, or still holds a place.
    """
    with storing(worded("The picture {name}", name=path.stem)):
        data = path.read_bytes()
    if hashlib.sha256(data).hexdigest() != sha256 or (location != "kept" and may_hold_place(data)):
        path.unlink(missing_ok=True)
        raise StorageFault(
            worded("{path} is not on the disk as it was written", path=path.name),
            worded("Check the disk"),
        )


def _plain_name(found: Found) -> str:
    """The file's name; bytes that are no text in it become marks of replacement."""
    return found.path.name.encode("utf-8", "surrogateescape").decode("utf-8", "replace")


def _taken(review: Review, shot: Shot) -> str:
    if shot.taken is None or shot.weak:
        return ""
    return shot.taken.astimezone(zone_of(review)).isoformat(timespec="seconds")


def _of_clock(clock: Clock, shot: Shot) -> tuple[str, ...]:
    """What the time rests on, where it is not simply the camera's."""
    told = list[str]()
    if clock.ahead and not shot.weak:
        told.append(reworded(clock.told[0], lambda one: one[:1].lower() + one[1:]))
    if shot.assumed:
        told.append(worded("its time zone is assumed"))
    return tuple(told)
