"""A damaged journal taken apart: every line in it that can be read, and the rest.

Nothing is decided here; :mod:`voicelog.journal.vouching` tells which of the lines belong to the log.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator
from dataclasses import replace
from datetime import datetime
from itertools import pairwise

from voicelog.errors import LogFault
from voicelog.journal.chain import FIRST_PREV
from voicelog.journal.lines import LONGEST_LINE, DamagedLine, NewerLog, decode, digest
from voicelog.journal.mending import Mender, respelt
from voicelog.journal.pieces import Found, Rest, Salvage
from voicelog.tongue import NOTHING, Worded, to_word, worded

Progress = Callable[[int, int], None]
"""Takes how much is done, and how much there is."""

CUT_FREE = to_word("what another program put around it was cut off")
ONE_BIT = to_word("one bit of it had turned over")
RESPELT = to_word("another program had spaced or spelled it otherwise")

_PREV = re.compile(rb'"prev"\s*:\s*"([0-9a-f]{64})"')
_SHORTEST = 100
"""Bytes; no line is shorter, its envelope alone has more."""
_BEGIN = re.compile(rb'\{\s*"seq"\s*:')
_UTF_16 = (b"\xff\xfe", b"\xfe\xff")


def salvaged(text: bytes, progress: Progress = lambda *_: None) -> Salvage:
    """All that can be read in a journal, whatever happened to it.

    A line whose hash a later line names, and that differs from it by one bit, is put right.

    Args:
        text: the whole file.
        progress: told how many of how many bytes are read.

    Raises:
        NewerLog: a later program wrote it, as more than one line bears out.
    """
    if text.startswith(_UTF_16):
        text = text.decode("utf-16", "replace").encode()
    salvage = Salvage(named={match.decode() for match in _PREV.findall(text)} - {FIRST_PREV})
    for number, start, end in _raw_lines(text):
        salvage.lines = number
        _take(salvage, number, text[start:end], torn=end == len(text))
        progress(end, len(text))
    for line, fault in salvage.newer:
        if digest(line) in salvage.named:
            raise fault
    _mend(salvage)
    return salvage


def _raw_lines(text: bytes) -> Iterator[tuple[int, int, int]]:
    """Number, start and end of each line; only the last may reach the end of the file."""
    number = start = 0
    while start < len(text):
        number += 1
        end = text.find(b"\n", start)
        end = len(text) if end < 0 else end
        yield number, start, end
        start = end + 1


def _take(salvage: Salvage, number: int, raw: bytes, *, torn: bool) -> None:
    """Sorts one line of the file, or the lines that were glued together in it."""
    if not raw:  # a file may have a million of them
        salvage.rests.append(Rest(number, raw, _told(raw, "", torn=torn)))
        return
    why = _read(salvage, number, raw, "")
    if not why:
        return
    starts = [match.start() for match in _BEGIN.finditer(raw)]
    for start, end in pairwise([*starts, len(raw)]):
        piece = raw[start : raw.rfind(b"}", start, end) + 1]
        problem = _read(salvage, number, piece, CUT_FREE) if piece != raw else why
        if problem:
            kept = raw[start:end] if len(starts) > 1 else raw
            salvage.rests.append(Rest(number, kept, _told(kept, problem, torn=torn)))
    if not starts:
        salvage.rests.append(Rest(number, raw, _told(raw, why, torn=torn)))
    elif raw[: starts[0]].strip(b"\xef\xbb\xbf\x00\r\t ") and len(starts) > 1:
        salvage.rests.append(Rest(number, raw[: starts[0]], _told(raw, why, torn=torn)))


def _read(salvage: Salvage, number: int, piece: bytes, fix: str) -> Worded:
    """Takes a line in, where it is one; else what is wrong with it."""
    if len(piece) > LONGEST_LINE:
        return worded("it is too long")
    try:
        found = _found(number, piece, fix)
        salvage.found.append(
            found if found.digest in salvage.named else _as_written(salvage, found)
        )
    except NewerLog as fault:
        salvage.newer.append((piece, fault))
        return worded("its version is none that this program knows")
    except DamagedLine as fault:
        return fault.what
    return NOTHING


def _as_written(salvage: Salvage, found: Found) -> Found:
    """The line as this program wrote it, where it is still known that it did; else as it stands."""
    line = respelt(found.data)
    if digest(line) not in salvage.named:
        return found
    return _found(found.number, line, RESPELT)


def _found(number: int, line: bytes, fix: str) -> Found:
    fact = decode(line, number)
    at_s = datetime.fromisoformat(fact.at).timestamp()
    return Found(
        number, line, fact.seq, fact.type, fact.prev, fact.offset_s, digest(line),
        at_s - fact.offset_s, fix,
    )  # fmt: skip


def _told(raw: bytes, why: str, *, torn: bool) -> str:
    if not raw.strip(b"\r\t "):
        return worded("it is empty")
    if not raw.strip(b"\x00"):
        return worded("it holds nothing but zero bytes, as a power cut leaves them")
    if torn:
        return worded("it is torn after {count} bytes, and was never acknowledged", count=len(raw))
    return why


def _mend(salvage: Salvage) -> None:
    """Puts right what is one bit away from a line that is named and not there, the last one first:
    its own hash of the line before it may be what had turned over.
    """
    wanted = salvage.named - {found.digest for found in salvage.found}
    mender, gone = Mender(wanted), set[int]()
    rests: dict[int, list[Rest]] = {}
    for rest in salvage.rests:
        rests.setdefault(rest.number, []).append(rest)
    for piece in _newest_first(salvage):
        if isinstance(piece, Found) and piece.digest in salvage.named:
            continue
        behind = rests.get(piece.number + 1, ())
        if sum(len(part.data) for part in (piece, *behind)) < _SHORTEST:
            continue
        parts, line = _mended(piece, behind, mender)
        if line is None or not (found := _if_line(piece.number, line)):
            continue
        salvage.found.append(found)
        gone |= set(map(id, parts))
        before = {found.prev} - {FIRST_PREV}
        salvage.named |= before
        wanted.discard(found.digest)
        wanted |= before - {other.digest for other in salvage.found}
    salvage.rests = [rest for rest in salvage.rests if id(rest) not in gone]


def _newest_first(salvage: Salvage) -> list[Found | Rest]:
    pieces: list[Found | Rest] = [*salvage.found, *salvage.rests]
    return sorted(pieces, key=lambda piece: -piece.number)


def _mended(
    piece: Found | Rest, behind: Iterable[Rest], mender: Mender
) -> tuple[list[Found | Rest], bytes | None]:
    """The line that was in a piece, alone or with one that stands in the line behind it: a byte may
    have become a line feed; and the pieces that it was.
    """
    line = mender.mended(piece.data)
    if line is not None or isinstance(piece, Found):
        return [piece], line
    for other in behind:
        line = mender.joined(piece.data, other.data)
        if line is not None:
            return [piece, other], line
    return [piece], None


def _if_line(number: int, line: bytes) -> Found | None:
    try:
        return replace(_found(number, line, ""), fix=ONE_BIT)
    except LogFault:
        return None
