"""The chain of lines: each carries its number and the hash of the one before."""

from __future__ import annotations

import os
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import BinaryIO, NamedTuple

from voicelog.domain.fact import Fact
from voicelog.errors import InputFault, LogFault
from voicelog.journal.lines import LONGEST_LINE, DamagedLine, decode, digest
from voicelog.journal.naming import JOURNAL
from voicelog.journal.storage import reading
from voicelog.tongue import Worded, worded, worded_many

FIRST_PREV = "0" * 64
"""What the first line carries as the hash of the line before."""

_BEGIN = b'{"seq":'
"""How every line begins; within one, quotation marks are escaped."""


class Chain(NamedTuple):
    """The whole lines so far, and so what the next one must carry; a tuple, because every line makes
    one.

    Args:
        lines: how many.
        size: their bytes, newlines included.
        seq: the number of the last one.
        prev: its hash.
        at: its wall-clock time, empty before the first line.
        offset_s: its seconds since the log was opened.
    """

    lines: int = 0
    size: int = 0
    seq: int = 0
    prev: str = FIRST_PREV
    at: str = ""
    offset_s: float = 0.0

    def check(self, fact: Fact) -> None:
        """Sees that a fact follows from the lines so far.

        Raises:
            LogFault: when it does not.
        """
        number, due = self.lines + 1, self.seq + 1
        if fact.seq != due:
            raise DamagedLine(
                number,
                worded(
                    "it has seq {seq} where {due} was due; {why}",
                    seq=fact.seq,
                    due=due,
                    why=_order(fact.seq, due),
                ),
            )
        if fact.prev != self.prev:
            raise DamagedLine(
                number, worded("the line before it is not the one it was written after")
            )
        if due == 1 and fact.type != "opened":
            raise DamagedLine(number, worded("it does not say how the log was opened"))

    def after(self, fact: Fact, line: bytes) -> Chain:
        """The chain with one more line, given without its newline."""
        size = self.size + len(line) + 1
        return Chain(self.lines + 1, size, fact.seq, digest(line), fact.at, fact.offset_s)

    def past(self, line: bytes) -> Chain:
        """The chain beyond a line that cannot be read, to go on checking after it."""
        size = self.size + len(line) + 1
        return Chain(self.lines + 1, size, self.seq + 1, digest(line), self.at, self.offset_s)


def _order(seq: int, due: int) -> Worded:
    if seq < due:
        return worded("it is repeated, or out of order")
    return worded_many(
        "line {first} of the log is missing, or out of order",
        "lines {first} to {last} of the log are missing, or out of order",
        seq - due,
        first=due,
        last=seq - 1,
    )


class Lines:
    r"""One pass over a file's whole lines: those that end in ``\n``, without it.

    Args:
        file: a journal, open for reading at its beginning.

    Attributes:
        torn: what lies after the last whole line, once the pass is over.
    """

    def __init__(self, file: BinaryIO) -> None:
        self._file = file
        self.torn = b""

    def __iter__(self) -> Iterator[bytes]:
        """The lines, one at a time.

        Raises:
            LogFault: at a line so long that no journal has it, or one whose end was altered.
        """
        number = 0
        while line := self._file.readline(LONGEST_LINE + 1):
            number += 1
            if line.endswith(b"\n"):
                yield line[:-1]
            elif len(line) > LONGEST_LINE:
                raise DamagedLine(number, worded("it is too long"))
            elif _is_torn(line):
                self.torn = line
            else:
                raise DamagedLine(
                    number, worded("it is whole, and does not end as a line of the journal does")
                )


def _is_torn(tail: bytes) -> bool:
    """Whether what lies behind the last line end is the beginning of one line, as a crash leaves it.

    Behind a whole line stands a line end, and nothing else: where another byte does, or another line,
    the line was acknowledged, and something happened to its end. Zeros come of a power cut.
    """
    if _BEGIN in tail[1:]:
        return False
    try:
        decode(tail[:-1], 0)
    except LogFault:
        return True
    return tail.endswith(b"\x00")


@contextmanager
def open_journal(folder: Path) -> Iterator[BinaryIO]:
    """A log's journal, open for reading.

    Raises:
        InputFault: when there is none, or it cannot be read.
    """
    path = folder / JOURNAL
    if not path.is_file():
        raise InputFault(
            worded("There is no log at {folder}", folder=folder),
            worded("Give the folder that holds {journal}.", journal=JOURNAL),
        )
    with reading(folder), path.open("rb") as file:
        yield file


LONGEST_JOURNAL = 1024 * 1024 * 1024
"""Bytes that are held in memory at once: a million utterances."""


def all_of(file: BinaryIO) -> bytes:
    """A whole journal, for whoever has to look back and forth in it.

    Raises:
        InputFault: it is larger than any inspection; such a file need not take room on the disk.
        OSError: it cannot be read.
    """
    if os.fstat(file.fileno()).st_size > LONGEST_JOURNAL:
        raise InputFault(
            worded(
                "The journal is larger than {most} GiB, and no inspection is",
                most=LONGEST_JOURNAL // 2**30,
            ),
            worded("Check that the file is what it is taken for."),
        )
    return file.read()
