"""What somebody who means harm puts into a log's folder in place of its files: links, pipes, devices, files
without an end.
"""

from __future__ import annotations

import os
import shutil
from collections.abc import Callable, Mapping
from contextlib import suppress
from pathlib import Path

VICTIM = "nobody but me\n"
"""What stands in the file that a log has no business with."""


def victim(home: Path) -> Path:
    """A file that a log has no business with."""
    path = home / "victim.txt"
    path.write_text(VICTIM)
    return path


def _link(log: Path, name: str, to: Path) -> None:
    path = log / name
    if path.is_dir() and not path.is_symlink():
        shutil.rmtree(path)
    with suppress(FileNotFoundError):
        path.unlink()
    path.symlink_to(to)


def _pipe(log: Path, name: str) -> None:
    with suppress(FileNotFoundError):
        (log / name).unlink()
    os.mkfifo(log / name)


def _folder(log: Path, name: str) -> None:
    with suppress(FileNotFoundError):
        (log / name).unlink()
    (log / name).mkdir()


_GRAMMAR_FILE = "grammar/words/talk.toml"


def _sparse(log: Path, name: str) -> None:
    """A file of 64 GB that takes no room."""
    with (log / name).open("r+b") as file:
        file.truncate(64 * 2**30)


def _torn(log: Path, to: Path) -> None:
    """A torn line, and links where it would be set aside."""
    with (log / "journal.jsonl").open("ab") as file:
        file.write(b'{"seq":')
    _link(log, "journal.torn-1.part", to)


def _photos_elsewhere(log: Path, to: Path) -> None:
    (to.parent / "pictures").mkdir(exist_ok=True)
    _link(log, "photos", to.parent / "pictures")
    for n in range(5, 30):
        (to.parent / "pictures" / f"p{n}.jpg").write_bytes(b"mine")


FOLDERS: Mapping[str, Callable[[Path, Path], None]] = {
    "journal: a link": lambda log, to: _link(log, "journal.jsonl", to),
    "journal: a pipe": lambda log, _: _pipe(log, "journal.jsonl"),
    "journal: a device": lambda log, _: _link(log, "journal.jsonl", Path("/dev/zero")),
    "journal: a folder": lambda log, _: _folder(log, "journal.jsonl"),
    "journal: 64 GB": lambda log, _: _sparse(log, "journal.jsonl"),
    "lock: a link": lambda log, to: _link(log, "lock", to),
    "lock: a pipe": lambda log, _: _pipe(log, "lock"),
    "lock: a folder": lambda log, _: _folder(log, "lock"),
    "export: a link": lambda log, to: _link(log, "inspection.json", to),
    "export: a pipe": lambda log, _: _pipe(log, "inspection.json"),
    "torn line: a link": _torn,
    "clips: a link": lambda log, to: _link(log, "clips", to.parent),
    "clip: a link": lambda log, to: _link(log, "clips/u2.flac", to),
    "clip: a pipe": lambda log, _: _pipe(log, "clips/u2.flac"),
    "clip: a device": lambda log, _: _link(log, "clips/u2.flac", Path("/dev/zero")),
    "clip: a folder": lambda log, _: _folder(log, "clips/u2.flac"),
    "clip: 64 GB": lambda log, _: _sparse(log, "clips/u2.flac"),
    "pictures: a link": _photos_elsewhere,
    "grammar: a link": lambda log, to: _link(log, "grammar", to.parent),
    "grammar file: a link": lambda log, to: _link(log, _GRAMMAR_FILE, to),
    "grammar file: a pipe": lambda log, _: _pipe(log, _GRAMMAR_FILE),
    "grammar file: a device": lambda log, _: _link(log, _GRAMMAR_FILE, Path("/dev/zero")),
    "grammar file: a folder": lambda log, _: _folder(log, _GRAMMAR_FILE),
    "grammar file: 64 GB": lambda log, _: _sparse(log, _GRAMMAR_FILE),
}  # fmt: skip
"""Name to what is done to the log's folder, given a file that is none of its business."""
