"""The files that lie in a log's own folders; links are never followed, wherever they lead."""

from __future__ import annotations

import hashlib
import os
import stat
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import BinaryIO

from voicelog.journal.naming import lies_inside
from voicelog.journal.storage import BINARY, NO_LINK, PRIVATE_FILE, sync_folder

_PIECE = 1024 * 1024

LONGEST = 256 * 1024 * 1024
"""Bytes; no picture that is kept has more, and a file that takes no room on disk can have any size."""


def is_own(path: Path) -> bool:
    """True for a regular file that is no link."""
    try:
        return stat.S_ISREG(path.lstat().st_mode)
    except (OSError, ValueError):  # ValueError: a NUL in its name
        return False


def is_own_folder(path: Path) -> bool:
    """True for a folder that is no link."""
    try:
        return stat.S_ISDIR(path.lstat().st_mode)
    except (OSError, ValueError):
        return False


def own_file(folder: Path, name: str, within: str) -> Path | None:
    """A file that a log names, where it is one of the log's own; else None.

    Args:
        folder: the log's.
        name: its path in the log, as a line gives it: text from outside.
        within: the folder in the log in which such files lie, and no deeper.
    """
    parts = name.split("/")
    if not lies_inside(name) or len(parts) != 2 or parts[0] != within:
        return None
    path = folder / within / parts[1]
    return path if is_own_folder(folder / within) and is_own(path) else None


def own_files(folder: Path, within: str) -> list[Path]:
    """The log's own files in one of its folders, in the order of their names."""
    inside = folder / within
    return sorted(filter(is_own, inside.iterdir())) if is_own_folder(inside) else []


def sha256_of(path: Path) -> str:
    """Of a file's bytes, lower-case hexadecimal; empty where it is longer than any file of a log.

    Raises:
        OSError: it cannot be read, or is a link.
    """
    with opened_own(path) as file:
        if os.fstat(file.fileno()).st_size > LONGEST:
            return ""
        sha256 = hashlib.sha256()
        while piece := file.read(_PIECE):
            sha256.update(piece)
    return sha256.hexdigest()


def holds(path: Path, data: bytes) -> bool:
    """True for a file of the log that holds just these bytes.

    Raises:
        OSError: it cannot be read.
    """
    return is_own(path) and path.lstat().st_size == len(data) and path.read_bytes() == data


@contextmanager
def opened_own(path: Path) -> Iterator[BinaryIO]:
    """A regular file open for reading, and never what a link leads to.

    Raises:
        OSError: it cannot be read, or is a link.
    """
    handle = os.open(path, os.O_RDONLY | NO_LINK | BINARY)
    with open(handle, "rb") as file:  # noqa: PTH123 - what is opened is a handle
        yield file


def copy_file(source: Path, target: Path) -> None:
    """Copies a file into a private one that is not there yet; when this returns, the disk has it.

    Raises:
        OSError: it cannot be read, is a link, or the disk refuses the copy.
    """
    handle = os.open(target, os.O_WRONLY | os.O_CREAT | os.O_EXCL | BINARY, PRIVATE_FILE)
    with open(handle, "wb") as copy, opened_own(source) as file:  # noqa: PTH123
        while piece := file.read(_PIECE):
            copy.write(piece)
        copy.flush()
        os.fsync(copy.fileno())


def erase_file(path: Path) -> bool:
    """Overwrites a file with zeros and takes it away; a link is only taken away.

    Whether the disk still has the old bytes somewhere is for nobody to know: flash memory writes
    elsewhere, and snapshots and backups keep what was.

    Returns:
        True where the bytes were overwritten; False where it was a link, has another name under
        which somebody may still want it, or did not let itself be written to.

    Raises:
        OSError: it cannot be taken away.
    """
    overwritten = _overwritten(path)
    path.unlink()
    sync_folder(path.parent)
    return overwritten


def _overwritten(path: Path) -> bool:
    try:
        if not is_own(path) or path.lstat().st_nlink > 1:
            return False
        handle = os.open(path, os.O_WRONLY | NO_LINK | BINARY)
    except OSError:
        return False
    try:
        left = os.fstat(handle).st_size
        while left > 0:
            left -= os.write(handle, bytes(min(left, _PIECE)))
        os.fsync(handle)
    except OSError:
        return False
    finally:
        os.close(handle)
    return True
