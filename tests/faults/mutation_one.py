"""One mutant: a file that is not as it was written. Needs nothing that is not always there."""

from __future__ import annotations

from dataclasses import dataclass

from mutation_places import places_of


@dataclass(frozen=True, slots=True)
class Mutant:
    """A file that is not as it was written.

    Args:
        file: its path in the project.
        line: where it differs first.
        where: the rule or the function that this line belongs to.
        old: that line, as it was, without the spaces around it.
        new: what it became.
        source: the whole file.
    """

    file: str
    line: int
    where: str
    old: str
    new: str
    source: str


def told(file: str, source: str, changed: str) -> Mutant:
    """A mutant with the first line in which it differs."""
    before, after = source.split("\n"), changed.split("\n")
    line = next(n for n, pair in enumerate(zip(before, after, strict=False)) if pair[0] != pair[1])
    where = places_of(file, source)[line]
    return Mutant(file, line + 1, where, before[line].strip(), after[line].strip(), changed)
