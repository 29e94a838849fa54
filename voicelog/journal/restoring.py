"""The lines of a log that is recovered: those of the old one, with their numbers, in a new chain."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from voicelog.domain.fact import Fact
from voicelog.domain.recovery import LEFT_OUT
from voicelog.journal.chain import FIRST_PREV
from voicelog.journal.lines import digest, encode
from voicelog.journal.pieces import Asked, Restored
from voicelog.journal.restored_line import Restorer
from voicelog.journal.vouching import Vouched


def restored(
    taken: Vouched, opened: Fact, asked: Asked, told: Restored, end: int
) -> Iterator[Fact]:
    """The facts of the new log behind its first line, each with the number it had.

    Args:
        taken: the lines that belong to the log.
        opened: its first line.
        asked: for every line, clip and picture.
        told: gets what became of them.
        end: the number of the last line that the log is known to have had.
    """
    restorer = Restorer(taken, asked, told)
    before = opened
    for seq in range(2, max((end, *taken.lines)) + 1):
        line = taken.lines.get(seq)
        restorer.passed(taken.lines.get(seq - 1))
        fact = None if line is None else restorer.kept(line)
        if fact is None:
            told.lost.append(seq)
            fact = replace(before, seq=seq, type=LEFT_OUT, body={})
        yield fact
        before = fact


def chained(opened: Fact, facts: Iterator[Fact]) -> Iterator[bytes]:
    """Their lines, each with the hash of the one before, with line feeds."""
    line = encode(replace(opened, seq=1, prev=FIRST_PREV))
    yield line + b"\n"
    for fact in facts:
        line = encode(replace(fact, prev=digest(line)))
        yield line + b"\n"
