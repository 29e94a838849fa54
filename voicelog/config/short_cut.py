"""Files of the user's cache: what was worked out before, so that it need not be worked out again.

Each lies under a name that holds a hash of all that it was made of, program included, and carries a
seal: what was made of other bytes is never found, and what is damaged is never believed. Whatever is
wrong with one, the full work is done.
"""

from __future__ import annotations

import hashlib
import os
import sys
from collections.abc import Iterable
from pathlib import Path

from voicelog import __version__

_PACKAGE = Path(__file__).resolve().parents[1]


def cache_home() -> Path:
    """Where they lie: in the user's cache folder, which may be emptied at any time."""
    from platformdirs import user_cache_path

    return user_cache_path("voicelog", appauthor=False)


def name_of(made_of: Iterable[bytes], parts: Iterable[str]) -> str:
    """The name for what is made of these bytes by these parts of the program.

    Args:
        made_of: all that it depends on, in order.
        parts: the packages of voicelog whose code makes it; a checkout changes without a version.
    """
    hashed = hashlib.sha256(f"{__version__} {sys.version} {_code(parts)}".encode())
    for raw in made_of:
        hashed.update(f"\0{len(raw)}\0".encode() + raw)
    return hashed.hexdigest()


def found(folder: Path, name: str) -> bytes:
    """What is kept under a name.

    Raises:
        OSError: nothing is.
        ValueError: it is damaged.
    """
    seal, _, body = (folder / name).read_bytes().partition(b"\n")
    if seal != _seal(name, body):
        raise ValueError("a damaged cache")
    return body


def keep(folder: Path, name: str, body: bytes, most: int) -> None:
    """Write it whole or not at all, and drop old ones.

    Args:
        folder: of the cache, made if need be.
        name: as :func:`name_of` gives it.
        body: what is kept.
        most: how many files stay; the oldest go first.

    Raises:
        OSError: the folder or the disk refuses.
    """
    folder.mkdir(mode=0o700, parents=True, exist_ok=True)
    draft = folder / f"{name}.{os.getpid()}"
    try:
        draft.touch(mode=0o600)  # a shop's own words are nobody else's business
        draft.write_bytes(_seal(name, body) + b"\n" + body)
        draft.replace(folder / name)
    finally:
        draft.unlink(missing_ok=True)
    there = sorted(folder.iterdir(), key=lambda path: path.stat().st_mtime, reverse=True)
    for old in there[most:]:
        old.unlink(missing_ok=True)


def _code(parts: Iterable[str]) -> str:
    """Size and time of every file of the parts."""
    files = (path for part in parts for path in os.scandir(_PACKAGE / part))
    told = sorted((file.name, file.stat()) for file in files if file.name.endswith(".py"))
    return " ".join(f"{name} {stat.st_size} {stat.st_mtime_ns}" for name, stat in told)


def _seal(name: str, body: bytes) -> bytes:
    """Tells a whole file in its place from a damaged one."""
    return hashlib.sha256(name.encode() + body).hexdigest().encode()
