"""Reading a log: its facts in order, every line checked; never changes anything, needs no lock."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path

from voicelog.domain.fact import Fact
from voicelog.domain.signing import SIGNED, signature_of
from voicelog.domain.uncollected import uncollected
from voicelog.errors import LogFault
from voicelog.journal.chain import Chain, Lines, open_journal
from voicelog.journal.late_body import Shelf
from voicelog.journal.lines import DAMAGED, DamagedLine, decode
from voicelog.journal.lost_end import beyond, names_in
from voicelog.journal.seal import LateSealing
from voicelog.journal.verify import Report, verify
from voicelog.tongue import worded

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
        last: the bytes of the last line passed, without its line feed.
        begin: where that line begins in the file.
        torn: the bytes after the last whole line, once the pass is over.
    """

    def __init__(self, folder: Path) -> None:
        self._folder = folder
        self.chain = Chain()
        self.last = self.torn = b""
        self.begin = 0

    def __iter__(self) -> Iterator[Fact]:
        """The facts in order.

        Raises:
            InputFault: when there is no log, or it cannot be read.
            LogFault: at the first damaged line, one written by a newer version, a signature of other
                lines, or behind the last line where the end of the log is gone.
        """
        with open_journal(self._folder) as file:
            files, sealing = names_in(self._folder), LateSealing(self._folder)
            lines = Lines(file)
            for line in lines:
                fact = decode(line, self.chain.lines + 1)
                self.chain.check(fact)
                if fact.type == SIGNED:
                    self._check_signature(fact, sealing)
                self.begin, self.last = self.chain.size, line
                self.chain = self.chain.after(fact, line)
                yield fact
        self.torn = lines.torn
        if not self.chain.lines:
            raise never_opened()
        if gone := beyond(files, self.chain.seq).told(self.chain.seq):
            raise LogFault(gone, worded(DAMAGED))

    def _check_signature(self, fact: Fact, sealing: LateSealing) -> None:
        """Sees that a signature is of the lines in front of it."""
        if wrong := sealing.seal(self.chain).denies(signature_of(fact)):
            raise DamagedLine(fact.seq, worded("it {wrong}", wrong=wrong))


def never_opened() -> LogFault:
    """The fault of a journal without a whole line: the program stopped while making it."""
    return LogFault(
        worded("Line 1 of the journal was never finished, so the log holds nothing"),
        worded("Start a new log."),
    )


def iter_facts(folder: Path) -> Iterator[Fact]:
    """The facts of a log in order, one in memory at a time; a torn last line is passed over.

    Raises:
        InputFault: when there is no log, or it cannot be read.
        LogFault: at the first damaged line, or one written by a newer version.
    """
    yield from Walk(folder)


def read_log(folder: Path, each: Callable[[Fact], Fact] = lambda fact: fact) -> Log:
    """All facts of a log; of a very long one most bodies are read again when they are asked for.

    Args:
        folder: the log's.
        each: sees every fact while all of it is in memory, and gives it back, or raises.

    A change within the last line that leaves it whole cannot be told from what was written there:
    the hash of a line lies in the next one.

    Raises:
        InputFault: when there is no log, or it cannot be read.
        LogFault: when a line is damaged, missing, repeated or out of order, or when a newer
            version wrote it.
    """
    walk, shelf = Walk(folder), Shelf(folder)
    with uncollected():
        facts = tuple(shelf.lean(each(fact), walk.last, walk.begin) for fact in walk)
    return Log(folder, facts, torn_line(walk.chain, walk.torn) if walk.torn else "")


def torn_line(chain: Chain, torn: bytes) -> str:
    """A sentence on the rest of a line that was never finished."""
    return worded(
        "Line {line} is torn after {count} bytes and was never acknowledged",
        line=chain.lines + 1,
        count=len(torn),
    )
