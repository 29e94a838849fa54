"""Lines in which a single bit turned over, or that another program spelled otherwise, found again by
the hash that another line gives them.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterator, Set

_BITS = tuple(1 << bit for bit in range(8))
_LONGEST = 32 * 1024
"""Bytes of a line that is tried; its cost grows with their square."""

_EFFORT = 5_000_000_000
"""Bytes that are hashed at most for one log: some seconds, and enough for one line of the longest."""


class Mender:
    """Tries every bit of a line until its hash is one that is looked for.

    Nothing is guessed: who finds bytes with a given SHA-256 has found the bytes.

    Args:
        wanted: hashes of lines that are named and not there; may grow while this is used.
    """

    def __init__(self, wanted: Set[str]) -> None:
        self._wanted = wanted
        self._left = _EFFORT

    def mended(self, damaged: bytes) -> bytes | None:
        """The line as it was, or None where no single bit makes it one that is looked for."""
        cost = len(damaged) * len(damaged) * len(_BITS) // 2
        if not self._wanted or len(damaged) > _LONGEST or cost > self._left:
            return None
        self._left -= cost
        return next((line for line, sha256 in _flipped(damaged) if sha256 in self._wanted), None)

    def joined(self, one: bytes, other: bytes) -> bytes | None:
        """The line that became two when one of its bytes turned into a line feed, or None."""
        between = (bytes((ord("\n") ^ bit,)) for bit in _BITS)
        tried = (one + byte + other for byte in between if self._wanted)
        return next((t for t in tried if hashlib.sha256(t).hexdigest() in self._wanted), None)


def respelt(line: bytes) -> bytes:
    """A line as this program spells what it says: nothing between its parts, all escaped that is not
    ASCII. The order of its keys is as it was.
    """
    return json.dumps(json.loads(line), separators=(",", ":")).encode("ascii")


def _flipped(line: bytes) -> Iterator[tuple[bytes, str]]:
    """Every line that differs by one bit, and its hash; what lies before the bit is hashed once."""
    before = hashlib.sha256()
    for place, byte in enumerate(line):
        rest = line[place + 1 :]
        for bit in _BITS:
            turned = bytes((byte ^ bit,))
            tried = before.copy()
            tried.update(turned + rest)
            yield line[:place] + turned + rest, tried.hexdigest()
        before.update(line[place : place + 1])
