"""The picture files below a folder: found, read as far as the matching needs, and told apart."""

from __future__ import annotations

import hashlib
import os
import stat
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from datetime import UTC, datetime, timezone
from pathlib import Path

from voicelog.domain.inert import inert
from voicelog.errors import InputFault, UsageFault, VoicelogError
from voicelog.export.pictures import ENDINGS, LONGEST_FILE, Told, check_whole, told_by
from voicelog.review.photo_clock import Shot, exif_time
from voicelog.tongue import joined, worded, worded_many

_SHOWN_NAME = 80


@dataclass(frozen=True, slots=True)
class Found:
    """A picture file.

    Args:
        path: where it lies.
        name: the same below the folder that was given, ``/`` between folders; as it is.
        told: what it tells of its taking.
        modified: the file's own time.
    """

    path: Path
    name: str
    told: Told
    modified: datetime

    def shot(self, zone: timezone) -> Shot:
        """What the matching needs of it.

        Args:
            zone: taken for its time zone where it names none.
        """
        found = exif_time(self.told.taken, self.told.subsecond, self.told.offset, zone)
        if found is None:
            return Shot(self.name, self.modified, weak=True)
        return Shot(self.name, found[0], assumed=found[1])


@dataclass(slots=True)
class Folder:
    """What lies below a folder.

    Args:
        pictures: those that can be read, by name, in order.
        notes: a sentence on every file that was passed over.
    """

    pictures: dict[str, Found] = field(default_factory=dict)
    notes: list[str] = field(default_factory=list)

    def named(self, text: str) -> Found:
        """The picture that somebody means: its name below the folder, or the last part of it.

        Raises:
            UsageFault: there is none, or several.
        """
        if text in self.pictures:
            return self.pictures[text]
        meant = [one for one in self.pictures.values() if one.path.name == text]
        if len(meant) == 1:
            return meant[0]
        name = repr(inert(text, _SHOWN_NAME))
        told = (
            worded("{count} pictures are called {name}", count=len(meant), name=name)
            if meant
            else worded("There is no picture called {name}", name=name)
        )
        raise UsageFault(told, worded("Name it as the table does"))


def pictures_below(folder: Path, log: Path) -> Folder:
    """Reads the pictures below a folder; links are not followed, the log's own are passed over.

    Raises:
        InputFault: there is no such folder, or it lies in the log's own.
    """
    _refuse(folder, log)
    found, others = Folder(), 0
    for path in _files(folder, log, found.notes):
        if path.suffix.lower() not in ENDINGS:
            others += not path.name.startswith(".")
        elif not path.name.startswith("."):  # such files only describe others
            _take(path, path.relative_to(folder).as_posix(), found)
    if others:
        found.notes.append(
            worded_many(
                "{count} file of other kinds passed over",
                "{count} files of other kinds passed over",
                others,
            )
        )
    return found


def _refuse(folder: Path, log: Path) -> None:
    try:
        mode = folder.stat().st_mode
    except (OSError, ValueError) as error:  # ValueError: a NUL in the path
        why = getattr(error, "strerror", None) or str(error)
        raise InputFault(
            worded("The folder {folder} cannot be read ({why})", folder=repr(str(folder)), why=why),
            worded("Name the folder of the pictures"),
        ) from error
    if not stat.S_ISDIR(mode):
        raise InputFault(
            worded("{folder} is no folder", folder=repr(str(folder))),
            worded("Name the folder of the pictures"),
        )
    if folder.resolve().is_relative_to(log.resolve()):
        raise InputFault(
            worded("{folder} lies in the log's own folder", folder=repr(str(folder))),
            worded("Move the pictures to a folder of their own, and name that"),
        )


def content(found: Found) -> bytes:
    """All of a picture file.

    Raises:
        InputFault: it cannot be read, or is far too large.
    """
    try:
        with found.path.open("rb") as file:
            data = file.read(LONGEST_FILE + 1)
    except OSError as error:
        raise InputFault(
            worded("It cannot be read ({reason})", reason=error.strerror or error)
        ) from error
    if len(data) > LONGEST_FILE:
        raise InputFault(
            worded("It is larger than {most} MiB", most=LONGEST_FILE // 2**20),
            worded("Save a smaller copy"),
        )
    return data


def whole(found: Found) -> str:
    """The SHA-256 of a picture that is seen to be whole.

    Raises:
        InputFault: it is not, or cannot be read.
    """
    data = content(found)
    check_whole(data)
    return hashlib.sha256(data).hexdigest()


def noted(name: str, fault: VoicelogError) -> str:
    """What is wrong with one file, as a sentence."""
    return inert(joined(": ", (inert(name, _SHOWN_NAME), fault.told)))


def _files(folder: Path, log: Path, notes: list[str]) -> Iterator[Path]:
    own = log.resolve()
    for parent, folders, names in os.walk(folder, onerror=lambda error: _unread(error, notes)):
        here = Path(parent)
        if here.resolve().is_relative_to(own):
            notes.append(worded("The log's own folder was passed over"))
            folders.clear()
            continue
        folders.sort()
        for name in (*(n for n in folders if (here / n).is_symlink()), *sorted(names)):
            if _is_plain(here / name, notes):
                yield here / name


def _unread(error: OSError, notes: list[str]) -> None:
    name = inert(str(error.filename), _SHOWN_NAME)
    notes.append(worded("{name}: the folder cannot be read ({why})", name=name, why=error.strerror))


def _is_plain(path: Path, notes: list[str]) -> bool:
    """False for links, pipes and devices; only a link is worth a word."""
    try:
        mode = path.lstat().st_mode
    except OSError:
        return False
    if stat.S_ISLNK(mode):
        name = inert(path.name, _SHOWN_NAME)
        notes.append(worded("{name}: a link, which is not followed", name=name))
    return stat.S_ISREG(mode)


def _take(path: Path, name: str, found: Folder) -> None:
    try:
        told = told_by(path)
        modified = datetime.fromtimestamp(path.stat().st_mtime, UTC)
    except VoicelogError as fault:
        found.notes.append(noted(name, fault))
    except (OSError, ValueError, OverflowError) as error:
        found.notes.append(
            noted(name, InputFault(worded("It cannot be read ({error})", error=error)))
        )
    else:
        found.pictures[name] = Found(path, name, told, modified)


def weak_and_assumed(shots: Sequence[Shot]) -> tuple[int, int]:
    """How many know only their file's time, and how many name no time zone."""
    return sum(shot.weak for shot in shots), sum(shot.assumed for shot in shots)
