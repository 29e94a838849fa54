"""What can happen to the other files of a log: clips, pictures, and its copy of the grammar."""

from __future__ import annotations

import shutil
from collections.abc import Callable
from pathlib import Path
from random import Random

Damage = Callable[[Path, Random], bool]
"""Damages a log's folder; False where it has no file of that kind."""


def _files(folder: Path, within: str) -> list[Path]:
    return sorted(path for path in (folder / within).rglob("*") if path.is_file())


def _told(folder: Path, within: str) -> list[Path]:
    """The files of a folder that lines tell of."""
    journal = (folder / "journal.jsonl").read_text("ascii")
    return [path for path in _files(folder, within) if f'"{within}/{path.name}"' in journal]


def swapped(within: str) -> Damage:
    """Two files have each other's content."""

    def damage(folder: Path, chance: Random) -> bool:
        files = _told(folder, within)
        if len(files) < 2:
            return False
        one, other = chance.sample(files, 2)
        data = one.read_bytes()
        one.write_bytes(other.read_bytes())
        other.write_bytes(data)
        return data != one.read_bytes()

    return damage


def missing(within: str) -> Damage:
    """Some files are gone, or all of them."""

    def damage(folder: Path, chance: Random) -> bool:
        files = _told(folder, within)
        if not files:
            return False
        if chance.random() < 0.1:
            shutil.rmtree(folder / within)
            return True
        for path in chance.sample(files, chance.randint(1, min(5, len(files)))):
            path.unlink()
        return True

    return damage


def altered(within: str) -> Damage:
    """A file is cut short, has a bit turned over, a sector of zeros, or nothing in it."""

    def damage(folder: Path, chance: Random) -> bool:
        files = _told(folder, within)
        if not files:
            return False
        path = chance.choice(files)
        data = path.read_bytes()
        place = chance.randrange(len(data))
        path.write_bytes(chance.choice((
            data[:place],
            data[:place] + bytes((data[place] ^ 1 << chance.randrange(8),)) + data[place + 1 :],
            data[:place] + bytes(_SECTOR) + data[place + _SECTOR :],
            data[:place] + data[place + 1 :],
            b"",
        )))  # fmt: skip
        return path.read_bytes() != data

    return damage


_SECTOR = 512


def erased_again_there(folder: Path, chance: Random) -> bool:
    """The sound that somebody had erased lies there once more, as a backup brings it back."""
    journal = (folder / "journal.jsonl").read_text("ascii")
    there = {path.name for path in _files(folder, "clips")}
    gone = [
        n for n in range(2, 60) if f'"clips/u{n}.flac"' in journal and f"u{n}.flac" not in there
    ]
    if not gone:
        return False
    (folder / "clips" / f"u{chance.choice(gone)}.flac").write_bytes(b"as it was")
    return True


def grammar_altered(folder: Path, chance: Random) -> bool:
    """A file of the log's own copy was edited, emptied, cut short, taken away, or one put in."""
    path = chance.choice(_files(folder, "grammar"))
    data = path.read_bytes()
    place = chance.randrange(len(data))
    match chance.randrange(6):
        case 0:
            path.unlink()
        case 1:
            (folder / "grammar" / "words" / "more.toml").write_text("# more\n")
        case 2:
            path.write_bytes(data[:place])
        case 3:
            path.write_bytes(data.replace(b'"unsafe"', b'"treat"') + b"\n")
        case 4:
            path.write_bytes(data[:place] + bytes((data[place] ^ 2,)) + data[place + 1 :])
        case _:
            path.write_bytes(b"")
    return True


def rules_softened(folder: Path, _: Random) -> bool:
    """Somebody edited the rules of the log's own copy so that nothing is unsafe any more."""
    path = folder / "grammar" / "rules" / "frame.toml"
    data = path.read_bytes()
    path.write_bytes(data.replace(b'"unsafe"', b'"treat"'))
    return path.read_bytes() != data
