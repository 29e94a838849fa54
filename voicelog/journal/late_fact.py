"""Facts that are not read as a whole: what is seldom asked for is read when somebody does."""

from __future__ import annotations

from abc import abstractmethod
from collections.abc import Iterator, Mapping
from sys import intern
from typing import Any

import msgspec

from voicelog.domain.entry import Change
from voicelog.domain.fact import Fact
from voicelog.journal.lines import ENVELOPE, decode, document

_VALUES = msgspec.json.Decoder(dict[str, msgspec.Raw])


class LateFact(Fact):
    """A fact whose ``at``, ``prev`` and ``body`` are read when somebody asks for them.

    Args:
        seq: its number.
        offset_s: seconds since the log was opened.
        type: what kind of fact it is.
        known: what it changes, where that was worked out already.
    """

    __slots__ = ()

    def __init__(
        self,
        seq: int,
        offset_s: float,
        type: str,  # noqa: A002
        known: tuple[Change, ...] | None = None,
    ) -> None:
        put = object.__setattr__
        put(self, "seq", seq)
        put(self, "offset_s", offset_s)
        put(self, "type", type)
        put(self, "known", known)

    @abstractmethod
    def whole(self) -> Fact:
        """The same, read as a whole."""

    @property
    def at(self) -> str:
        """Wall-clock time."""
        return self.whole().at

    @property
    def prev(self) -> str:
        """SHA-256 of the line before."""
        return self.whole().prev

    def __eq__(self, other: object) -> bool:
        return isinstance(other, Fact) and self.whole() == other

    def __hash__(self) -> int:
        return hash(self.seq)


def skim(line: bytes, number: int) -> Fact:
    """The fact of a line that was read and checked before, under that very number.

    Args:
        line: its bytes, without the newline.
        number: where it stands in the file, from 1.

    Raises:
        LogFault: it never was such a line.
    """
    try:
        values = _VALUES.decode(line)
        envelope = {key: values.pop(key) for key in ENVELOPE}
        kind, offset_s = document(envelope["type"]), document(envelope["offset_s"])
    except (msgspec.DecodeError, ValueError, KeyError):
        return decode(line, number)
    return SkimmedFact(number, float(offset_s), intern(kind), line, values)


class SkimmedFact(LateFact):
    """A fact of which only the keys are read.

    Args:
        seq, offset_s, type: as of any.
        line: its bytes.
        values: key of its body to JSON.
    """

    __slots__ = ("_line", "_values")
    _line: bytes
    _values: Mapping[str, msgspec.Raw]

    def __init__(
        self,
        seq: int,
        offset_s: float,
        type: str,  # noqa: A002
        line: bytes,
        values: Mapping[str, msgspec.Raw],
    ) -> None:
        super().__init__(seq, offset_s, type)
        object.__setattr__(self, "_line", line)
        object.__setattr__(self, "_values", values)

    def whole(self) -> Fact:
        """All of the line read."""
        return decode(self._line, self.seq)

    @property
    def body(self) -> Mapping[str, Any]:
        """The rest of the line."""
        return SkimmedBody(self._values)


class SkimmedBody(Mapping[str, Any]):
    """A body whose values are read when somebody asks for them.

    Args:
        values: key to JSON.
    """

    __slots__ = ("_values",)

    def __init__(self, values: Mapping[str, msgspec.Raw]) -> None:
        self._values = values

    def __getitem__(self, key: str) -> Any:
        return document(self._values[key])

    def __contains__(self, key: object) -> bool:
        return key in self._values

    def __iter__(self) -> Iterator[str]:
        return iter(self._values)

    def __len__(self) -> int:
        return len(self._values)
