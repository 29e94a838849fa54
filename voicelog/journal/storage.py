"""Bytes to disk so that they stay there: private files, synced, never half written."""

from __future__ import annotations

import errno
import os
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

from voicelog.errors import InputFault, StorageFault
from voicelog.tongue import Worded, to_word, worded

PRIVATE_FILE = 0o600
PRIVATE_FOLDER = 0o700
BINARY = getattr(os, "O_BINARY", 0)  # Windows would turn LF into CR LF
NO_LINK = getattr(os, "O_NOFOLLOW", 0)
"""What a link leads to is no file of a log; Windows has no such flag."""

_HINTS: dict[int | None, str] = {
    errno.ENOSPC: to_word(
        "Free some space on the disk, then go on; everything acknowledged is kept."
    ),
    errno.EDQUOT: to_word(
        "Free some of your disk quota, then go on; everything acknowledged is kept."
    ),
    errno.EROFS: to_word(
        "This disk can only be read: have it made writable, or choose another with --into."
    ),
    errno.EACCES: to_word("Choose a folder that you may write to, with --into."),
    errno.EPERM: to_word("Choose a folder that you may write to, with --into."),
}
_HINTS |= dict.fromkeys(
    (errno.EEXIST, errno.ENOTDIR), to_word("Choose another folder with --into.")
)
_OTHER_HINT = to_word("Check the disk and its cable, then go on; everything acknowledged is kept.")


@contextmanager
def storing(what: Worded) -> Iterator[None]:
    """Turns the refusal of a disk into a fault that says what could not be written.

    Raises:
        StorageFault: when the block raises OSError.
    """
    try:
        yield
    except OSError as refusal:
        reason = refusal.strerror or type(refusal).__name__
        hint = _HINTS.get(refusal.errno, _OTHER_HINT)
        raise StorageFault(
            worded("{what} could not be written ({reason})", what=what, reason=reason),
            worded(hint),
        ) from refusal


@contextmanager
def reading(folder: Path) -> Iterator[None]:
    """Turns the refusal of a disk into a fault that says which log could not be read.

    Raises:
        InputFault: when the block raises OSError.
    """
    try:
        yield
    except OSError as refusal:
        reason = refusal.strerror or type(refusal).__name__
        raise InputFault(
            worded("The log at {folder} cannot be read ({reason})", folder=folder, reason=reason),
            worded("Check the disk, and who may read the folder."),
        ) from refusal


def make_folder(folder: Path) -> None:
    """Makes a private folder and sees that it stays.

    Raises:
        FileExistsError: when it is there already.
        OSError: when the disk refuses it; it is not there then.
    """
    folder.mkdir(mode=PRIVATE_FOLDER)
    try:
        sync_folder(folder.parent)
    except OSError:
        with suppress(OSError):
            folder.rmdir()
        raise


def have_folder(folder: Path) -> None:
    """Sees that a private folder is there and stays.

    An empty one is made anew: a program that was killed while it made the folder may have left a
    name that only the system's memory has.

    Raises:
        OSError: when the disk refuses it.
    """
    with suppress(OSError):  # something lies in it, or it is not there
        folder.rmdir()
    if folder.is_symlink():
        raise OSError(errno.ENOTDIR, worded("it is a link to another folder"), str(folder))
    if not folder.is_dir():
        make_folder(folder)


def sync_folder(folder: Path) -> None:
    """Has the disk keep which files the folder holds, where the system can do that.

    Raises:
        OSError: when the disk fails.
    """
    try:
        handle = os.open(folder, os.O_RDONLY)
    except OSError:  # Windows opens no folders, and needs no such call
        return
    try:
        os.fsync(handle)
    except OSError as refusal:
        if refusal.errno not in (errno.EINVAL, errno.ENOTSUP):  # some network file systems
            raise
    finally:
        os.close(handle)


def write_all(handle: int, data: bytes) -> None:
    """Writes every byte: in one call, unless the system takes only a part.

    Raises:
        OSError: when the disk refuses some of it.
    """
    view = memoryview(data)
    while view:
        view = view[os.write(handle, view) :]


def write_file(path: Path, data: bytes) -> None:
    """A private file, there as a whole or not at all; replaces one of that name.

    Raises:
        OSError: when the disk refuses it; nothing of it is left then.
    """
    draft = path.with_name(f"{path.name}.part")
    try:
        _write_draft(draft, data)
        draft.replace(path)
    except BaseException:
        with suppress(OSError):
            draft.unlink()
        raise
    sync_folder(path.parent)


def _write_draft(draft: Path, data: bytes) -> None:
    draft.unlink(missing_ok=True)  # what a crash left, or a link that somebody put there
    flags = os.O_WRONLY | os.O_CREAT | os.O_EXCL | BINARY
    handle = os.open(draft, flags, PRIVATE_FILE)
    try:
        write_all(handle, data)
        os.fsync(handle)
    finally:
        os.close(handle)
