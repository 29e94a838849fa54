"""The facts of a long log, most of each read from its file again when somebody asks for it."""

from __future__ import annotations

from array import array
from collections.abc import Iterator, Mapping
from io import SEEK_END
from pathlib import Path
from typing import Any

from voicelog.domain.entry import Add, Change
from voicelog.domain.fact import Fact, changes_of
from voicelog.errors import LogFault
from voicelog.journal.chain import open_journal
from voicelog.journal.late_fact import LateFact
from voicelog.journal.lines import decode
from voicelog.tongue import worded

LONG = 8 * 1024 * 1024
"""Bytes of a journal that is read again in pieces. In memory a fact takes some seven times its line;
an inspection of a whole day, some 3,000 lines, stays below this and in memory."""

_HEAVY = "utterance"
"""The type of the facts that hold most: what each ear heard, word by word. All others stay whole."""

_ABOUT = "utterance"
"""The key whose value stays: every look at a log asks for it."""


def is_long(folder: Path) -> bool:
    """Whether a log's journal is one that is read again in pieces.

    Raises:
        InputFault: there is no log, or it cannot be read.
    """
    with open_journal(folder) as file:
        return file.seek(0, SEEK_END) > LONG


class Shelf:
    """Where the facts of one log are read again; the one read last is kept.

    Args:
        folder: the log's.
    """

    def __init__(self, folder: Path) -> None:
        self._folder = folder
        self._begins, self._hashes = array("Q", (0,)), array("q")
        self._is_long: bool | None = None
        self._last: Fact | None = None
        self._keys: dict[tuple[str, ...], tuple[str, ...]] = {}

    def lean(self, fact: Fact, line: bytes) -> Fact:
        """The fact without what is seldom asked for, which is read again; what it changes stays.

        Args:
            fact: as it was read; every one of the log, in order.
            line: its bytes, without the line feed.
        """
        self._begins.append(self._begins[-1] + len(line) + 1)
        self._hashes.append(hash(line))
        if fact.type != _HEAVY or not self._long():
            return fact
        try:
            known = changes_of(fact)
        except LogFault:  # whoever asks for the changes is told
            return fact
        keys = tuple(fact.body)
        return ShelvedFact(fact, known, self, self._keys.setdefault(keys, keys))

    def _long(self) -> bool:
        if self._is_long is None:
            self._is_long = is_long(self._folder)
        return self._is_long

    def fact(self, seq: int) -> Fact:
        """A fact as it stands in the file.

        Raises:
            InputFault: the log cannot be read any more.
            LogFault: the file was changed since.
        """
        if self._last is None or self._last.seq != seq:
            begin, end = self._begins[seq - 1 : seq + 1]
            with open_journal(self._folder) as file:
                file.seek(begin)
                line = file.read(end - begin - 1)
            if hash(line) != self._hashes[seq - 1]:
                raise LogFault(
                    worded("The log was changed while it was being read"),
                    worded("Try again; voicelog verify tells whether it is whole."),
                )
            self._last = decode(line, 0)
        return self._last


class ShelvedFact(LateFact):
    """A fact on a shelf.

    Args:
        fact: as it was read.
        known: what it changes.
        shelf: where it is read again.
        keys: those of its body.
    """

    __slots__ = ("_about", "_keys", "_shelf")
    _about: object
    _keys: tuple[str, ...]
    _shelf: Shelf

    def __init__(
        self, fact: Fact, known: tuple[Change, ...], shelf: Shelf, keys: tuple[str, ...]
    ) -> None:
        super().__init__(fact.seq, fact.offset_s, fact.type, known)
        about = fact.body.get(_ABOUT)
        for change in known[:1]:
            if isinstance(change, Add) and change.entry.utterance == about:
                about = change.entry.utterance  # one text in memory, not two
        object.__setattr__(self, "_about", about)
        object.__setattr__(self, "_keys", keys)
        object.__setattr__(self, "_shelf", shelf)

    def whole(self) -> Fact:
        """As it stands in the file."""
        return self._shelf.fact(self.seq)

    @property
    def body(self) -> Mapping[str, Any]:
        """The rest of the line."""
        return LateBody(self._shelf, self.seq, self._keys, self._about)


class LateBody(Mapping[str, Any]):
    """A body whose keys are known, and whose values are read when somebody asks for one."""

    __slots__ = ("_about", "_keys", "_seq", "_shelf")

    def __init__(self, shelf: Shelf, seq: int, keys: tuple[str, ...], about: object) -> None:
        self._shelf, self._seq, self._keys, self._about = shelf, seq, keys, about

    def __getitem__(self, key: str) -> Any:
        if key not in self._keys:
            raise KeyError(key)
        return self._about if key == _ABOUT else self._shelf.fact(self._seq).body[key]

    def __contains__(self, key: object) -> bool:
        return key in self._keys

    def __iter__(self) -> Iterator[str]:
        return iter(self._keys)

    def __len__(self) -> int:
        return len(self._keys)
