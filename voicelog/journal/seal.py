"""What a signature covers: the lines of a journal, hashed as they lie in the file."""

from __future__ import annotations

import hashlib
from dataclasses import dataclass
from pathlib import Path
from typing import BinaryIO, Self

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

    @classmethod
    def over(cls, file: BinaryIO, chain: Chain) -> Self:
        """Of as many bytes of a file, from where it stands, as the lines of a chain have."""
        sealing, left = cls(), chain.size
        while piece := file.read(min(_PIECE, left)):
            sealing._hash.update(piece)
            left -= len(piece)
        sealing._lines = chain.lines
        return sealing

    def take(self, line: bytes) -> None:
        """Takes in one more line, given without its line feed."""
        self._hash.update(line)
        self._hash.update(b"\n")
        self._lines += 1

    @property
    def seal(self) -> Seal:
        """Of all lines taken in."""
        return Seal(self._lines, self._hash.hexdigest())


@dataclass(frozen=True, slots=True)
class Known:
    """The lines of a journal that were read and checked once, so that they need it no more.

    Args:
        chain: as it was behind the last of them.
        sha256: over them with their line feeds.
    """

    chain: Chain
    sha256: str

    def sealing(self, file: BinaryIO) -> Sealing | None:
        """The sealing behind these lines, if a file begins with them, else None.

        Args:
            file: a journal, open for reading at its beginning; left behind them, or somewhere.
        """
        sealing = Sealing.over(file, self.chain)
        return sealing if sealing.seal == Seal(self.chain.lines, self.sha256) else None


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
