"""A disk that keeps only what was synced: what is left after the power is cut, at its worst.

A write is in the system's memory until a sync of its file, a name until a sync of its folder. A sync
that fails takes away the memory of what was to be written, as Linux does: the file still reads as
written, later syncs succeed, and nothing of it will ever be on disk unless it is written again.
"""

from __future__ import annotations

import os
from collections.abc import Callable
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from disk_calls import Call, path_of

PAGE = 4096
"""Bytes that the system writes to a disk at once."""


@dataclass(slots=True)
class _File:
    """A file on the platter, and which of its pages are newer in memory."""

    pages: dict[int, bytes] = field(default_factory=dict)
    size: int = 0
    newer: set[int] = field(default_factory=set)

    def bytes(self) -> bytes:
        """All of it."""
        data = bytearray(self.size)
        for page, kept in self.pages.items():
            data[page * PAGE : page * PAGE + len(kept)] = kept
        return bytes(data[: self.size])


@dataclass(slots=True)
class _Folder:
    """The names on the platter with the files they stand for, and those that no sync will bring."""

    known: dict[str, int] = field(default_factory=dict)
    lost: set[str] = field(default_factory=set)


class Platter:
    """What the disk has.

    Args:
        root: the folder that it holds; empty, and known to be there.
    """

    def __init__(self, root: Path) -> None:
        self._root = root
        self._files: dict[int, _File] = {}
        self._folders: dict[str, _Folder] = {}

    def done(self, call: Call, do: Callable[[], Any]) -> Any:
        """Does a call, and knows what it means for the disk."""
        try:
            came = do()
        except OSError:
            if call.name == "fsync":
                self._sync(call.given[0], kept=False)
            raise
        self._note(call, came)
        return came

    def after_power_cut(self, target: Path) -> None:
        """Makes a folder of what is on the platter."""
        self._restore(self._root, target)

    def _note(self, call: Call, came: Any) -> None:
        match call.name:
            case "fsync":
                self._sync(call.given[0], kept=True)
            case "write":
                end = os.lseek(call.given[0], 0, os.SEEK_CUR)
                pages = range((end - came) // PAGE, max(0, end - 1) // PAGE + 1)
                self._file(call.given[0]).newer |= set(pages)
            case "ftruncate":
                self._file(call.given[0]).newer.add(call.given[1] // PAGE)
            case _:
                if call.name == "mkdir":
                    self._folders.pop(os.fspath(call.given[0]), None)
                for path in call.given:
                    self._made_anew(path)

    def _file(self, handle: int) -> _File:
        return self._files.setdefault(os.fstat(handle).st_ino, _File())

    def _folder(self, path: str) -> _Folder:
        return self._folders.setdefault(path, _Folder())

    def _made_anew(self, path: object) -> None:
        """A name that is made or taken away is to be written by the next sync, lost before or not."""
        if isinstance(path, str | os.PathLike):
            whole = Path(path)
            self._folder(str(whole.parent)).lost.discard(whole.name)

    def _sync(self, handle: int, *, kept: bool) -> None:
        path = path_of(handle)
        if Path(path).is_dir():
            self._sync_names(Path(path), kept=kept)
        else:
            self._sync_pages(handle, Path(path), kept=kept)

    def _sync_pages(self, handle: int, path: Path, *, kept: bool) -> None:
        file = self._file(handle)
        if kept:
            data = path.read_bytes()
            for page in file.newer:
                file.pages[page] = data[page * PAGE : (page + 1) * PAGE]
            file.size = len(data)
        file.newer.clear()

    def _sync_names(self, path: Path, *, kept: bool) -> None:
        folder = self._folder(str(path))
        now = {entry.name: entry.inode() for entry in os.scandir(path)}
        if kept:
            asked = {name: number for name, number in now.items() if name not in folder.lost}
            still = {name: n for name, n in folder.known.items() if name in folder.lost}
            folder.known = still | asked
        else:
            folder.lost |= {name for name, n in now.items() if folder.known.get(name) != n}
            folder.lost |= folder.known.keys() - now.keys()

    def _restore(self, path: Path, target: Path) -> None:
        target.mkdir()
        for name, number in self._folder(str(path)).known.items():
            if (path / name).is_dir():
                self._restore(path / name, target / name)
            else:
                (target / name).write_bytes(self._files.get(number, _File()).bytes())
