"""Journals made into other journals, whose chain of hashes holds again where that is wanted."""

from __future__ import annotations

import json
import random
from collections.abc import Callable
from typing import Any

from fuzz_json import altered

from voicelog.journal.lines import digest

FIRST = "0" * 64

Lines = list[bytes]


def mutated(data: bytes, longest: int, more: random.Random) -> bytes:
    """Another journal: lines altered in what they say, moved, doubled, lost, or broken as bytes.

    In three of four the numbers and hashes are put right afterwards, for a reader stops at the first
    line that does not follow from the one before, and would never see what the others say.

    Args:
        data: a journal, or what became of one.
        longest: bytes that the new one may have.
        more: what to draw from.
    """
    lines = data.split(b"\n")
    for _ in range(more.choice((1, 1, 2, 3))):
        more.choice(_CHANGES)(lines, more)
    made = b"\n".join(lines)
    if more.random() < 0.75:
        made = mended(made)
    return made if len(made) <= longest else mended(made[:longest])


def mended(data: bytes) -> bytes:
    """The lines that are JSON objects, numbered and chained as the journal does it; others as they are."""
    made, prev, seq = Lines(), FIRST, 0
    *whole, rest = data.split(b"\n")
    for line in whole:
        document = parsed(line)
        if isinstance(document, dict):
            seq += 1
            line = written(document | {"seq": seq, "prev": prev})
            prev = digest(line)
        made.append(line)
    return b"\n".join([*made, rest])


def parsed(line: bytes) -> Any:
    """What a line says; None where it is no JSON."""
    try:
        return json.loads(line)
    except (ValueError, RecursionError):
        return None


def written(document: dict[str, Any]) -> bytes:
    """An object as a line of the journal, ``seq`` first."""
    ordered = {"seq": document["seq"]} | document
    return json.dumps(ordered, separators=(",", ":")).encode("ascii")


def _say_other(lines: Lines, more: random.Random) -> None:
    at = more.randrange(len(lines))
    document = parsed(lines[at])
    if isinstance(document, dict):
        made = altered(document, more)
        lines[at] = written({"seq": 1} | made) if isinstance(made, dict) else lines[at]


def _double(lines: Lines, more: random.Random) -> None:
    lines.insert(more.randrange(len(lines)), more.choice(lines))


def _lose(lines: Lines, more: random.Random) -> None:
    if len(lines) > 1:
        del lines[more.randrange(len(lines))]


def _move(lines: Lines, more: random.Random) -> None:
    lines.insert(more.randrange(len(lines)), lines.pop(more.randrange(len(lines))))


def _turn_bit(lines: Lines, more: random.Random) -> None:
    at = more.randrange(len(lines))
    line = bytearray(lines[at])
    if line:
        line[more.randrange(len(line))] ^= 1 << more.randrange(8)
        lines[at] = bytes(line)


def _tear(lines: Lines, more: random.Random) -> None:
    at = more.randrange(len(lines))
    lines[at] = lines[at][: more.randrange(len(lines[at]) + 1)]


def _stuff(lines: Lines, more: random.Random) -> None:
    at = more.randrange(len(lines))
    place = more.randrange(len(lines[at]) + 1)
    lines[at] = lines[at][:place] + more.choice(_STUFF) + lines[at][place:]


_STUFF = (
    b"\x00" * 40,
    b"\r",
    b"\n",
    b"\xef\xbb\xbf",
    b"{",
    b'{"seq":',
    b"[" * 3000,
    b"9" * 5000,
    b"\xff",
    b'"v":2,',
)
_CHANGES: tuple[Callable[[Lines, random.Random], None], ...] = (
    _say_other, _say_other, _say_other, _say_other, _double, _lose, _move, _turn_bit, _tear, _stuff,
)  # fmt: skip
