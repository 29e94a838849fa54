"""A whole inspection erased: every file of the log that is the program's own, and no other."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from voicelog.errors import LogFault
from voicelog.journal.chain import all_of, open_journal
from voicelog.journal.lines import LONGEST_LINE, decode
from voicelog.journal.lock import take_lock
from voicelog.journal.naming import CLIPS, GRAMMAR, JOURNAL, LOCK, PHOTOS, is_given
from voicelog.journal.own_files import is_own, is_own_folder, own_files
from voicelog.journal.storage import reading, storing, sync_folder
from voicelog.runtime.erasing import Gone, erase_files
from voicelog.runtime.exports_about import exports_beside, exports_inside, logs_beside
from voicelog.runtime.logs import DOCUMENT
from voicelog.runtime.recovering import LEFT_OUT_FILE
from voicelog.tongue import worded

Progress = Callable[[int, int], None]

_BESIDE_LINES = {name + part for name in (DOCUMENT, LEFT_OUT_FILE) for part in ("", ".part")}
_TOLD = re.compile(rb'"file":"((?:clips|photos)/[^"\\]+)"')


@dataclass(frozen=True, slots=True)
class Whole:
    """An inspection that is to be erased.

    Args:
        folder: the log's.
        files: its own, the journal last: until that is gone, the same can be done again.
        others: names of what else lies in the folder, and stays.
        beside: files outside that hold its words or sound, and stay.
    """

    folder: Path
    files: tuple[Path, ...]
    others: tuple[str, ...]
    beside: tuple[Path, ...]


def whole_inspection(folder: Path) -> Whole:
    """What belongs to a log, however damaged it is.

    Raises:
        InputFault: there is no log, or it cannot be read.
    """
    opened = _opened(folder)
    log_id = str(opened.get("log_id", ""))
    with reading(folder):
        files = dict.fromkeys(_own(folder, opened))
        own = {path.relative_to(folder).parts[0] for path in files} | {LOCK}
        strays = (p.name for p in sorted(folder.iterdir()) if p.name not in own and not _empty(p))
        within = (
            f"{n}/{path}" for n in (CLIPS, PHOTOS, GRAMMAR) for path in _others(folder / n, files)
        )
        others = (*strays, *within)
        beside = (*exports_beside(folder, log_id), *logs_beside(folder, opened))
        return Whole(folder, tuple(files), others, beside)


def _opened(folder: Path) -> Mapping[str, Any]:
    """What the line that opened the log says; empty where it is damaged."""
    with open_journal(folder) as file:
        line = file.readline(LONGEST_LINE).removesuffix(b"\n")
    with suppress(LogFault):
        return decode(line, 1).body
    return {}


def _own(folder: Path, opened: Mapping[str, Any]) -> Iterator[Path]:
    """Sound and pictures first, the journal last; links are no files of a log."""
    told = {name.decode(errors="replace") for name in _TOLD.findall(_journal(folder))}
    for within in (CLIPS, PHOTOS):
        for path in own_files(folder, within):
            if is_given(path.name, within) or f"{within}/{path.name}" in told:
                yield path
    yield from exports_inside(folder, str(opened.get("log_id", "")))
    yield from _grammar(folder / GRAMMAR, opened.get("grammar"))
    beside = (p for p in sorted(folder.iterdir()) if is_given(p.name) or p.name in _BESIDE_LINES)
    yield from sorted(filter(is_own, beside), key=lambda path: path.name == JOURNAL)


def _journal(folder: Path) -> bytes:
    with open_journal(folder) as file:
        return all_of(file)


def _grammar(folder: Path, names: object) -> Iterator[Path]:
    """The log's copy of the grammar: the files that its first line tells of; where that is damaged,
    all that may be one.
    """
    for path in filter(is_own, _below(folder)) if is_own_folder(folder) else ():
        told = isinstance(names, Mapping) and path.relative_to(folder).as_posix() in names
        if told or (not isinstance(names, Mapping) and path.suffix == ".toml"):
            yield path


def _below(folder: Path) -> Iterator[Path]:
    """Everything in a folder and those in it; no link is followed."""
    for path in sorted(folder.iterdir()):
        yield path
        if is_own_folder(path):
            yield from _below(path)


def _others(folder: Path, own: dict[Path, None]) -> Iterator[str]:
    if is_own_folder(folder):
        found = (p for p in _below(folder) if p not in own and not is_own_folder(p))
        yield from (path.relative_to(folder).as_posix() for path in found)


def _empty(path: Path) -> bool:
    """True for a folder of the log that will be empty, or is told of file by file."""
    return path.name in (CLIPS, PHOTOS, GRAMMAR) and is_own_folder(path)


def erase_inspection(whole: Whole, progress: Progress = lambda *_: None) -> Gone:
    """Erases an inspection; its folder goes too, unless something else lies in it.

    Raises:
        LockedFault: somebody is writing it.
        StorageFault: a file cannot be taken away; the same can be done again.
    """
    folder = whole.folder
    with storing(worded("The log {name}", name=folder.name)):
        lock = take_lock(folder)
    try:
        gone = erase_files(folder, whole.files, progress)
    finally:
        lock.release()
    with storing(worded("That {name} is gone", name=folder.name)):
        (folder / LOCK).unlink(missing_ok=True)
        _take_empty_folders(folder)
    return gone


def _take_empty_folders(folder: Path) -> None:
    inside = [p for n in (CLIPS, PHOTOS, GRAMMAR) for p in _with_folders(folder / n)]
    for path in [*reversed(inside), folder]:
        with suppress(OSError):  # something else lies in it
            path.rmdir()
    sync_folder(folder.parent)


def _with_folders(folder: Path) -> Iterator[Path]:
    if is_own_folder(folder):
        yield folder
        yield from filter(is_own_folder, _below(folder))
