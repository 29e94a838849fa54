"""What a signature covers: the lines of a journal, hashed as they lie in the file."""

from __future__ import annotations

import hashlib
from dataclasses import dataclass
from pathlib import Path

from voicelog.domain.revision import Signature
from voicelog.journal.chain import Chain, Lines, open_journal
from voicelog.tongue import NOTHING, Worded, worded

_PIECE = 1024 * 1024


@dataclass(frozen=True, slots=True)
class Seal:
    """A number of lines and what they come to.

    Args:
        lines: how many, from the first.
        sha256: over them with their line feeds, lower-case hexadecimal: what
            ``head -n LINES journal.jsonl | sha256sum`` prints.
    """

    lines: int
    sha256: str

    def denies(self, signature: Signature) -> Worded:
        """What is wrong with a signature of these lines, to follow its line's number; else empty."""
        if signature.lines != self.lines:
            return worded(
                "signs {signed} lines, but {lines} stand before it",
                signed=signature.lines,
                lines=self.lines,
            )
        if signature.sha256 != self.sha256:
            return worded(
                "signs other lines than the {lines} that stand before it", lines=self.lines
            )
        return NOTHING


class Sealing:
    """The seal of the lines so far, kept while passing over them once."""

    def __init__(self) -> None:
        self._hash = hashlib.sha256()
        self._lines = 0

    def take(self, line: bytes) -> None:
        """Takes in one more line, given without its line feed."""
        self._hash.update(line)
        self._hash.update(b"\n")
        self._lines += 1

    @property
    def seal(self) -> Seal:
        """Of all lines taken in."""
        return Seal(self._lines, self._hash.hexdigest())


class LateSealing:
    """The seals of lines that were passed already; of a log that nobody signed no byte is hashed.

    Args:
        folder: the log's.
    """

    def __init__(self, folder: Path) -> None:
        self._folder, self._hash, self._size = folder, hashlib.sha256(), 0

    def seal(self, chain: Chain) -> Seal:
        """Of the lines of a chain; each one that is asked for begins with the one before.

        Raises:
            InputFault: when they cannot be read.
        """
        with open_journal(self._folder) as file:
            file.seek(self._size)
            while piece := file.read(min(_PIECE, chain.size - self._size)):
                self._hash.update(piece)
                self._size += len(piece)
        return Seal(chain.lines, self._hash.hexdigest())


def seal_of(folder: Path) -> Seal:
    """The seal of all whole lines of a log; what a crash left of a torn one does not count.

    Raises:
        InputFault: when there is no log, or it cannot be read.
        LogFault: at a line so long that no journal has it.
    """
    sealing = Sealing()
    with open_journal(folder) as file:
        for line in Lines(file):
            sealing.take(line)
    return sealing.seal
