"""What a damaged journal is taken apart into, and what becomes of its pieces."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field

from voicelog.domain.fact import Fact
from voicelog.journal.lines import NewerLog


@dataclass(frozen=True, slots=True)
class Found:
    """A line that can be read.

    Args:
        number: of the line of the file in which it stands, from 1.
        data: its bytes as they were written, without the line feed.
        seq: the number that it gives itself.
        type: what kind of fact it is.
        prev: the hash of the line that it was written after.
        offset_s: seconds since the log was opened.
        digest: its own hash.
        opened_s: when the log was opened, by the time of this line, in seconds since 1970.
        fix: what had to be put right to read it; empty where nothing had.
    """

    number: int
    data: bytes
    seq: int
    type: str
    prev: str
    offset_s: float
    digest: str
    opened_s: float
    fix: str = ""


@dataclass(frozen=True, slots=True)
class Rest:
    """A piece of the file that is no line, or none that is taken.

    Args:
        number: of the line of the file, from 1.
        data: its bytes.
        why: what is wrong with it, to follow "line 7:".
        known: the log has what it was, from elsewhere in the file.
    """

    number: int
    data: bytes
    why: str
    known: bool = False


@dataclass(slots=True)
class Salvage:
    """What there is in a file.

    Args:
        found: the lines, in the order of the file.
        rests: all else.
        named: every hash that something in the file names as that of the line before it.
        lines: how many lines the file has, the torn one included.
        newer: the lines that a later program seems to have written.
    """

    found: list[Found] = field(default_factory=list)
    rests: list[Rest] = field(default_factory=list)
    named: set[str] = field(default_factory=set)
    lines: int = 0
    newer: list[tuple[bytes, NewerLog]] = field(default_factory=list)


@dataclass(frozen=True, slots=True)
class Asked:
    """What has to be asked elsewhere.

    Args:
        is_whole: whether a file of the old log, by its name in it, has this SHA-256.
        misfit: what in a line does not fit the contract; empty where all does.
    """

    is_whole: Callable[[str, object], bool]
    misfit: Callable[[Fact], str] = lambda _: ""


@dataclass(slots=True)
class Restored:
    """What became of the old lines, told while they pass.

    Args:
        kept: how many of the old lines are in the new log.
        left: lines that are vouched for and that a log cannot hold.
        lost: numbers that stand empty.
        cut: numbers of lines with changes that could not be applied.
        twice: numbers of lines that two programs wrote; only one of them is kept.
        silent: files of sound that are not there, or not as they were kept.
        pictures: the same of pictures.
        signed: numbers of the lines that were signatures.
        denied: those of them whose lines are all there, and are not what was signed.
    """

    kept: int = 0
    left: list[Rest] = field(default_factory=list)
    lost: list[int] = field(default_factory=list)
    cut: list[int] = field(default_factory=list)
    twice: list[int] = field(default_factory=list)
    silent: list[str] = field(default_factory=list)
    pictures: list[str] = field(default_factory=list)
    signed: list[int] = field(default_factory=list)
    denied: list[int] = field(default_factory=list)
