"""Reading a log: its facts in order, every line checked; never changes anything, needs no lock."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from itertools import islice
from pathlib import Path
from typing import BinaryIO

from voicelog.domain.fact import Fact
from voicelog.domain.signing import SIGNED, signature_of
from voicelog.domain.uncollected import uncollected
from voicelog.errors import LogFault
from voicelog.journal.chain import Chain, Lines, open_journal
from voicelog.journal.late_body import Shelf
from voicelog.journal.late_fact import skim
from voicelog.journal.lines import DAMAGED, DamagedLine, decode
from voicelog.journal.lost_end import beyond, names_in
from voicelog.journal.seal import Known, Sealing
from voicelog.journal.verify import Report, verify
from voicelog.tongue import worded

__all__ = ["Log", "Report", "Walk", "iter_facts", "kept", "read_log", "verify"]


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
        known: lines that were checked before; where the log still begins with them, only the keys of
            their bodies are read.

    Attributes:
        chain: the lines passed so far.
        checked: how many of them were known.
        last: the bytes of the last line passed, without its line feed.
        torn: the bytes after the last whole line, once the pass is over.
    """

    def __init__(self, folder: Path, known: Known | None = None) -> None:
        self.folder = folder
        self._known = known
        self._sealing = Sealing()
        self.chain = Chain()
        self.checked = 0
        self.last = self.torn = b""

    def __iter__(self) -> Iterator[Fact]:
        """The facts in order.

        Raises:
            InputFault: when there is no log, or it cannot be read.
            LogFault: at the first damaged line, one written by a newer version, a signature of other
                lines, or behind the last line where the end of the log is gone.
        """
        with open_journal(self.folder) as file:
            files, lines = names_in(self.folder), Lines(file)
            passing = iter(lines)
            yield from self._known_ones(file, passing)
            for line in passing:
                yield self._next(line)
        self.torn = lines.torn
        if not self.chain.lines:
            raise never_opened()
        if gone := beyond(files, self.chain.seq).told(self.chain.seq):
            raise LogFault(gone, worded(DAMAGED))

    @property
    def known(self) -> Known:
        """The lines passed so far, for the next time."""
        return Known(self.chain, self._sealing.seal.sha256)

    def _known_ones(self, file: BinaryIO, passing: Iterator[bytes]) -> Iterator[Fact]:
        """The facts of the lines that were checked before."""
        sealing = self._known.sealing(file) if self._known is not None else None
        file.seek(0)
        if self._known is None or sealing is None:
            return
        self.checked = self._known.chain.lines
        for number, line in enumerate(islice(passing, self.checked), 1):
            self.last = line
            yield skim(line, number)
        self.chain, self._sealing = self._known.chain, sealing

    def _next(self, line: bytes) -> Fact:
        fact = decode(line, self.chain.lines + 1)
        self.chain.check(fact)
        if fact.type == SIGNED:
            self._check_signature(fact)
        self.last = line
        self.chain = self.chain.after(fact, line)
        self._sealing.take(line)
        return fact

    def _check_signature(self, fact: Fact) -> None:
        """Sees that a signature is of the lines in front of it."""
        if wrong := self._sealing.seal.denies(signature_of(fact)):
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


def read_log(folder: Path) -> Log:
    """All facts of a log; of a very long one most bodies are read again when they are asked for.

    Args:
        folder: the log's.

    A change within the last line that leaves it whole cannot be told from what was written there:
    the hash of a line lies in the next one.

    Raises:
        InputFault: when there is no log, or it cannot be read.
        LogFault: when a line is damaged, missing, repeated or out of order, or when a newer
            version wrote it.
    """
    return kept(Walk(folder))


def kept(walk: Walk, each: Callable[[Fact], None] = lambda _fact: None) -> Log:
    """What a pass over a log finds, as :func:`read_log` gives it.

    Args:
        walk: not begun yet.
        each: sees every fact while all of it is in memory, and may raise.

    Raises:
        InputFault, LogFault: as for :func:`read_log`.
    """
    shelf = Shelf(walk.folder)

    def lean(fact: Fact) -> Fact:
        each(fact)
        return shelf.lean(fact, walk.last)

    with uncollected():
        facts = tuple(map(lean, walk))
    return Log(walk.folder, facts, torn_line(walk.chain, walk.torn) if walk.torn else "")


def torn_line(chain: Chain, torn: bytes) -> str:
    """A sentence on the rest of a line that was never finished."""
    return worded(
        "Line {line} is torn after {count} bytes and was never acknowledged",
        line=chain.lines + 1,
        count=len(torn),
    )
