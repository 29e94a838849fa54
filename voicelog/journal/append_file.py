"""A file that only grows, by whole pieces, each on disk before the next."""

from __future__ import annotations

import errno
import os
from contextlib import suppress
from pathlib import Path

from voicelog.journal.storage import BINARY, NO_LINK, PRIVATE_FILE, sync_folder, write_all
from voicelog.tongue import worded


class AppendFile:
    """A file that only grows, by whole pieces.

    Args:
        path: the file.
        new: make it; it may not be there yet.

    Raises:
        OSError: when it cannot be opened, or is a link: what it leads to may be no log at all.
    """

    def __init__(self, path: Path, *, new: bool = False) -> None:
        flags = os.O_WRONLY | os.O_APPEND | BINARY | NO_LINK
        if new:
            flags |= os.O_CREAT | os.O_EXCL
        self._path = path
        self._handle: int | None = os.open(path, flags, PRIVATE_FILE)
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
        handle = self.cut(size)
        try:
            write_all(handle, piece)
            os.fsync(handle)
        except BaseException:
            with suppress(OSError):
                self.cut(size)
            raise

    def renew(self, piece: bytes, *, size: int) -> None:
        """Has the disk keep the last piece of another program, whatever became of it there.

        A piece can be read and yet not be on disk: that program was killed before its sync, or its
        sync failed, after which the system forgets that anything is to be written, and another sync
        would succeed for nothing. So the same bytes are written once more, in their place.

        Args:
            piece: the last one.
            size: bytes of the file, it included.

        Raises:
            OSError: when the disk refuses; the file reads as before.
        """
        handle = os.open(self._path, os.O_WRONLY | BINARY | NO_LINK)  # not to append
        try:
            os.lseek(handle, size - len(piece), os.SEEK_SET)
            write_all(handle, piece)
            os.fsync(handle)
        finally:
            os.close(handle)

    def cut(self, size: int) -> int:
        """Makes the file end after so many bytes.

        Returns:
            What the system knows the open file by.

        Raises:
            OSError: when it is shorter than that, or the disk refuses.
            ValueError: when it was closed.
        """
        if self._handle is None:
            raise ValueError("the file was closed")
        found = os.fstat(self._handle).st_size
        if found < size:
            raise OSError(errno.EIO, worded("the file lost some of its lines"))
        if found > size:
            os.ftruncate(self._handle, size)
            os.fsync(self._handle)
        return self._handle

    def close(self) -> None:
        """Lets the file go."""
        if self._handle is not None:
            os.close(self._handle)
            self._handle = None
