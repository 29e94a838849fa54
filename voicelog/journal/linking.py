"""Lines put behind one another by the hashes that they name."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Set

from voicelog.journal.pieces import Found

_NEAR = 6
"""Hexadecimal digits of 64 in which a damaged hash may differ from the one it was: by chance two
hashes have sixty digits that differ."""


def first_of_each(found: Iterable[Found]) -> dict[str, Found]:
    """Hash to the line, in the order of the file; the first where it stands there more than once."""
    first: dict[str, Found] = {}
    for line in sorted(found, key=lambda one: one.number):
        first.setdefault(line.digest, line)
    return first


def links_of(first: Mapping[str, Found]) -> dict[str, str]:
    """The hash of each line to that of the line it was written after; empty where that is not there."""
    numbered: dict[int, list[Found]] = {}
    for line in first.values():
        numbered.setdefault(line.seq, []).append(line)
    return {line.digest: _before(line, first, numbered) for line in first.values()}


def _before(line: Found, first: Mapping[str, Found], by_seq: Mapping[int, list[Found]]) -> str:
    before = first.get(line.prev)
    if before is not None and before.seq + 1 == line.seq:
        return before.digest
    near = (b.digest for b in by_seq.get(line.seq - 1, ()) if _nearly(b.digest, line.prev))
    return next(near, "")


def _nearly(one: str, other: str) -> bool:
    return sum(a != b for a, b in zip(one, other, strict=True)) <= _NEAR


def chains_of(
    first: Mapping[str, Found], links: Mapping[str, str], named: Set[str]
) -> Iterator[tuple[Found, ...]]:
    """Lines that were written one after the other, as long as they go; in the order of ``first``."""
    then: dict[str, Found] = {}
    length: dict[str, int] = {}
    for line in sorted(first.values(), key=lambda one: (-one.seq, one.number)):
        after = then.get(line.digest)
        length[line.digest] = 1 + (length[after.digest] if after else 0)
        before = links[line.digest]
        if before and _better(line, then.get(before), length, named):
            then[before] = line
    behind = {line.digest for line in then.values()}
    for digest, line in first.items():
        if digest not in behind:
            yield tuple(_from(line, then))


def _better(line: Found, other: Found | None, length: Mapping[str, int], named: Set[str]) -> bool:
    """Of two lines written after the same one, that with more behind it, or a name for it."""
    if other is None:
        return True
    return (length[line.digest], line.digest in named) > (
        length[other.digest],
        other.digest in named,
    )


def _from(line: Found, then: Mapping[str, Found]) -> Iterator[Found]:
    while True:
        yield line
        if line.digest not in then:
            return
        line = then[line.digest]


def rivals_of(
    taken: Mapping[int, Found], first: Mapping[str, Found], links: Mapping[str, str]
) -> dict[int, list[Found]]:
    """Lines that are not taken, and yet were written after one that is, or after another such line.

    Args:
        taken: the lines of the log, by their numbers.
        first: hash to line, of all there are.
        links: the hash of each line to that of the line it was written after.

    Returns:
        The number of a line that is taken to those that have it too; a line that was altered later
        cannot be told from them.
    """
    of_the_log = {line.digest for line in taken.values()}
    put_right = {line.number for line in taken.values() if line.fix}
    rivals: dict[int, list[Found]] = {}
    for line in sorted(first.values(), key=lambda one: one.seq):
        known = line.digest in of_the_log or line.number in put_right
        if known or links[line.digest] not in of_the_log or line.seq not in taken:
            continue
        of_the_log.add(line.digest)
        rivals.setdefault(line.seq, []).append(line)
    return rivals
