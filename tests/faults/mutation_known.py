"""The mutants that survive and may: those that somebody has looked at, with the reason, in ``mutants/``."""

from __future__ import annotations

import tomllib
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import NamedTuple

from mutation_one import Mutant
from mutation_places import places_of

_ROOT = Path(__file__).parents[2]
EXPLAINED = Path(__file__).with_name("mutants")


class Key(NamedTuple):
    """What a mutant is known by when lines move.

    Args:
        file: its path in the project.
        where: the rule or the function; empty where that is open between several.
        old: the line as it was.
        new: what it became.
    """

    file: str
    where: str
    old: str
    new: str


def key(mutant: Mutant) -> Key:
    """What this one is known by."""
    return Key(mutant.file, mutant.where, mutant.old, mutant.new)


def explained() -> dict[Key, str]:
    """The survivors that need no test, and why.

    A row may leave out ``where`` as long as its line stands in one place of the file only; else it
    explains nothing.
    """
    return {key_of(row): row["why"] for row in _rows()}


def _rows() -> Iterator[Mapping[str, str]]:
    for path in sorted(EXPLAINED.glob("*.toml")):
        yield from tomllib.loads(path.read_text(encoding="utf-8"))["mutant"]


def key_of(row: Mapping[str, str]) -> Key:
    """What the mutant of a row is known by."""
    there = places(row["file"], row["old"])
    where = row.get("where") or (there[0] if len(there) == 1 else "")
    return Key(row["file"], where, row["old"], row["new"])


def places(file: str, line: str) -> list[str]:
    """Where in the file such a line stands, each place once."""
    source = (_ROOT / file).read_text(encoding="utf-8")
    lines = map(str.strip, source.split("\n"))
    pairs = zip(lines, places_of(file, source), strict=True)
    return [*dict.fromkeys(place for told, place in pairs if told == line)]
