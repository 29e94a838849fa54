"""What else holds a log's words or sound: exports in its folder and beside that, and other logs."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Set
from itertools import islice
from pathlib import Path, PurePath
from typing import Any

from voicelog.domain.recovery import RECOVERED
from voicelog.journal.joined import is_joined
from voicelog.journal.naming import JOURNAL, is_given
from voicelog.journal.own_files import is_own, opened_own

ENDINGS = (".json", ".csv", ".html", ".pdf", ".vtt", ".flac")
"""Of what a log is handed over as."""

_MOST = 64 * 1024 * 1024
"""Bytes of a file that is looked into for the log's id."""

_FILES = 2_000
"""Files beside a log, and logs beside it, that are looked into."""

_FIRST_LINE = 1024 * 1024
"""Bytes of a journal that are looked into."""


def joined_inside(folder: Path) -> tuple[Path, ...]:
    """Sound of a whole log, joined, that lies in its folder; what a crash left of it as well."""
    sound = (path for path in _files(folder) if path.suffix == ".flac")
    return tuple(path for path in sound if is_given(path.name) or is_joined(path))


def exports_inside(folder: Path, log_id: str) -> tuple[Path, ...]:
    """Files in a log's folder that were made of it, as far as they say so: they name its id, or are
    its sound, joined.
    """
    joined = set(joined_inside(folder))
    return tuple(path for path in _files(folder) if path in joined or _names(path, log_id))


def exports_beside(folder: Path, log_id: str) -> tuple[Path, ...]:
    """The same beside the folder, one level and no further; of sound, where the words to it lie
    there.
    """
    named = {path for path in _files(folder.parent) if _names(path, log_id)}
    sound = (path.with_suffix(".flac") for path in named if path.suffix == ".vtt")
    return tuple(sorted(named | {path for path in sound if is_own(path) and is_joined(path)}))


def logs_beside(folder: Path, opened: Mapping[str, Any]) -> tuple[Path, ...]:
    """Logs beside the folder with the same words and sound: the damaged one that this was recovered
    from, and what was recovered of the same.

    Args:
        folder: the log's.
        opened: what the line that opened it says.
    """
    origin = opened.get(RECOVERED)
    origin = origin if isinstance(origin, Mapping) else {}
    ids = {str(each["log_id"]) for each in (opened, origin) if each.get("log_id")}
    journals = filter(is_own, sorted(folder.parent.glob(f"*/{JOURNAL}")))
    others = (path for path in journals if path.parent != folder)
    same = (path.parent for path in islice(others, _FILES) if _begins_with(path, ids))
    by_name = folder.parent / PurePath(str(origin.get("folder") or folder.name)).name
    there = {by_name} if by_name != folder and is_own(by_name / JOURNAL) else set[Path]()
    return tuple(sorted(there.union(same)))


def _begins_with(journal: Path, ids: Set[str]) -> bool:
    """Whether the first line of a journal names one of these logs."""
    try:
        with opened_own(journal) as file:
            first = file.readline(_FIRST_LINE)
    except OSError:
        return False
    return any(each.encode() in first for each in ids)


def _files(folder: Path) -> Iterator[Path]:
    found = (path for path in sorted(folder.iterdir()) if path.suffix.lower() in ENDINGS)
    for _, path in zip(range(_FILES), filter(is_own, found), strict=False):
        yield path


def _names(path: Path, log_id: str) -> bool:
    """Whether a file holds the id; what is packed, as in a PDF, cannot be looked into."""
    try:
        with opened_own(path) as file:
            return bool(log_id) and log_id.encode() in file.read(_MOST)
    except OSError:
        return False
