"""The bodies of a long log's facts, read from its file again when somebody asks for them."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any, NamedTuple

from voicelog.domain.fact import Fact, changes_of
from voicelog.errors import LogFault
from voicelog.journal.chain import open_journal
from voicelog.journal.lines import decode
from voicelog.tongue import worded

WHOLE = 2_000
"""Facts at the beginning of a log that stay in memory as a whole, some 10 kB each: no inspection of
a day has more lines by much."""

_HEAVY = "utterance"
"""The type of the facts that hold most: what each ear heard, word by word. All others stay whole."""

_ABOUT = "utterance"
"""The key whose value stays: every look at a log asks for it."""


class _Place(NamedTuple):
    """Where a line lies in its file: its first byte, how many there are, and a hash of them."""

    begin: int
    size: int
    hashed: int


class Shelf:
    """Where the bodies of one log are read again; the one read last is kept.

    Args:
        folder: the log's.
    """

    def __init__(self, folder: Path) -> None:
        self._folder = folder
        self._begin = -1
        self._body: Mapping[str, Any] = {}
        self._keys: dict[tuple[str, ...], tuple[str, ...]] = {}

    def lean(self, fact: Fact, line: bytes, begin: int) -> Fact:
        """The fact without its body, which is read again when somebody asks; what it changes stays.

        Args:
            fact: as it was read.
            line: its bytes, without the line feed.
            begin: where the line begins in the file.
        """
        if fact.seq <= WHOLE or fact.type != _HEAVY:
            return fact
        try:
            known = changes_of(fact)
        except LogFault:  # whoever asks for the changes is told
            return fact
        keys = tuple(fact.body)
        place = _Place(begin, len(line), hash(line))
        body = LateBody(self, self._keys.setdefault(keys, keys), fact.body.get(_ABOUT), place)
        return Fact(fact.seq, fact.at, fact.offset_s, fact.prev, fact.type, body, known)

    def body(self, place: _Place) -> Mapping[str, Any]:
        """A body as it stands in the file.

        Raises:
            InputFault: the log cannot be read any more.
            LogFault: the file was changed since.
        """
        if place.begin != self._begin:
            with open_journal(self._folder) as file:
                file.seek(place.begin)
                line = file.read(place.size)
            if hash(line) != place.hashed:
                raise LogFault(
                    worded("The log was changed while it was being read"),
                    worded("Try again; voicelog verify tells whether it is whole."),
                )
            self._begin, self._body = place.begin, decode(line, 0).body
        return self._body


class LateBody(Mapping[str, Any]):
    """A body whose keys are known, and whose values are read when somebody asks for one."""

    __slots__ = ("_about", "_keys", "_place", "_shelf")

    def __init__(self, shelf: Shelf, keys: tuple[str, ...], about: object, place: _Place) -> None:
        self._shelf, self._keys, self._about, self._place = shelf, keys, about, place

    def __getitem__(self, key: str) -> Any:
        if key not in self._keys:
            raise KeyError(key)
        return self._about if key == _ABOUT else self._shelf.body(self._place)[key]

    def __contains__(self, key: object) -> bool:
        return key in self._keys

    def __iter__(self) -> Iterator[str]:
        return iter(self._keys)

    def __len__(self) -> int:
        return len(self._keys)
