"""Bytes to disk so that they stay there: private files, synced, never half written."""

from __future__ import annotations

import errno
import os
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

from voicelog.errors import InputFault, StorageFault

PRIVATE_FILE = 0o600
PRIVATE_FOLDER = 0o700
_BINARY = getattr(os, "O_BINARY", 0)  # Windows would turn LF into CR LF

_HINTS = {
    errno.ENOSPC: "Free some space on the disk, then go on; everything acknowledged is kept.",
    errno.EDQUOT: "Free some of your disk quota, then go on; everything acknowledged is kept.",
    errno.EROFS: "Choose a folder on a disk that can be written, with --into.",
    errno.EACCES: "Choose a folder that you may write to, with --into.",
    errno.EPERM: "Choose a folder that you may write to, with --into.",
}
_HINTS |= dict.fromkeys((errno.EEXIST, errno.ENOTDIR), "Choose another folder with --into.")
_OTHER_HINT = "Check the disk and its cable, then go on; everything acknowledged is kept."


@contextmanager
def storing(what: str) -> Iterator[None]:
    """Turns the refusal of a disk into a fault that says what could not be written.

    Raises:
        StorageFault: when the block raises OSError.
    """
    try:
        yield
    except OSError as refusal:
        reason = refusal.strerror or type(refusal).__name__
        hint = _HINTS.get(refusal.errno or 0, _OTHER_HINT)
        raise StorageFault(f"{what} could not be written ({reason})", hint) from refusal


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
            f"The log at {folder} cannot be read ({reason})",
            "Check the disk, and who may read the folder.",
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
            draft.unlink(missing_ok=True)
        raise
    sync_folder(path.parent)


def _write_draft(draft: Path, data: bytes) -> None:
    flags = os.O_WRONLY | os.O_CREAT | os.O_TRUNC | _BINARY
    handle = os.open(draft, flags, PRIVATE_FILE)
    try:
        write_all(handle, data)
        os.fsync(handle)
    finally:
        os.close(handle)


class AppendFile:
    """A file that only grows, by whole pieces.

    Args:
        path: the file.
        new: make it; it may not be there yet.

    Raises:
        OSError: when it cannot be opened.
    """

    def __init__(self, path: Path, *, new: bool = False) -> None:
        made = os.O_CREAT | os.O_EXCL if new else 0
        flags = os.O_WRONLY | os.O_APPEND | made | _BINARY
        self._handle = os.open(path, flags, PRIVATE_FILE)
        if new:
            sync_folder(path.parent)

    def append(self, piece: bytes, *, size: int) -> None:
        """Adds a piece; when this returns, the disk has it.

        Args:
            piece: what to add.
            size: bytes that the file should have before. What a refused write left behind them is
                cut off first, so that nothing is ever glued to half a piece.

        Raises:
            OSError: when the disk refuses it; the file is put back to ``size`` if possible.
        """
        self.cut(size)
        try:
            write_all(self._handle, piece)
            os.fsync(self._handle)
        except BaseException:
            with suppress(OSError):
                self.cut(size)
            raise

    def cut(self, size: int) -> None:
        """Makes the file end after so many bytes.

        Raises:
            OSError: when it is shorter than that, or the disk refuses.
            ValueError: when it was closed.
        """
        if self._handle < 0:
            raise ValueError("the file was closed")
        found = os.fstat(self._handle).st_size
        if found < size:
            raise OSError(errno.EIO, "the file lost some of its lines")
        if found > size:
            os.ftruncate(self._handle, size)
            os.fsync(self._handle)

    def close(self) -> None:
        """Lets the file go."""
        if self._handle >= 0:
            os.close(self._handle)
            self._handle = -1
