"""Reading a log: its facts in order, every line checked; never changes anything, needs no lock."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from voicelog.domain.fact import Fact
from voicelog.errors import LogFault
from voicelog.journal.chain import Chain, Lines, open_journal
from voicelog.journal.lines import decode
from voicelog.journal.verify import Report, verify

__all__ = ["Log", "Report", "Walk", "iter_facts", "read_log", "verify"]


@dataclass(frozen=True, slots=True)
class Log:
    """A log as it was read.

    Args:
        folder: where it lies.
        facts: in order, the one that opened it first.
        torn: what a crash left of a line that was never acknowledged, in a sentence; else empty.
    """

    folder: Path
    facts: tuple[Fact, ...]
    torn: str = ""


class Walk:
    """One pass over a log's facts, one in memory at a time.

    Args:
        folder: the log's.

    Attributes:
        chain: the lines passed so far.
        torn: the bytes after the last whole line, once the pass is over.
    """

    def __init__(self, folder: Path) -> None:
        self._folder = folder
        self.chain = Chain()
        self.torn = b""

    def __iter__(self) -> Iterator[Fact]:
        """The facts in order.

        Raises:
            InputFault: when there is no log, or it cannot be read.
            LogFault: at the first damaged line, or one written by a newer version.
        """
        with open_journal(self._folder) as file:
            lines = Lines(file)
            for line in lines:
                fact = decode(line, self.chain.lines + 1)
                self.chain.check(fact)
                self.chain = self.chain.after(fact, line)
                yield fact
        self.torn = lines.torn
        if not self.chain.lines:
            raise never_opened()


def never_opened() -> LogFault:
    """The fault of a journal without a whole line: the program stopped while making it."""
    return LogFault(
        "Line 1 of the journal was never finished, so the log holds nothing", "Start a new log."
    )


def iter_facts(folder: Path) -> Iterator[Fact]:
    """The facts of a log in order, one in memory at a time; a torn last line is passed over.

    Raises:
        InputFault: when there is no log, or it cannot be read.
        LogFault: at the first damaged line, or one written by a newer version.
    """
    yield from Walk(folder)


def read_log(folder: Path) -> Log:
    """All facts of a log.

    A change within the last line that leaves it whole cannot be told from what was written there:
    the hash of a line lies in the next one.

    Raises:
        InputFault: when there is no log, or it cannot be read.
        LogFault: when a line is damaged, missing, repeated or out of order, or when a newer
            version wrote it.
    """
    walk = Walk(folder)
    facts = tuple(walk)
    return Log(folder, facts, torn_line(walk.chain, walk.torn) if walk.torn else "")


def torn_line(chain: Chain, torn: bytes) -> str:
    """A sentence on the rest of a line that was never finished."""
    return f"Line {chain.lines + 1} is torn after {len(torn)} bytes and was never acknowledged"
