"""A table that is cheap to copy: what hardly changes is shared, what changed lately lies on top."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import chain
from typing import Generic, TypeVar

V = TypeVar("V")

MOST_LATE = 256
"""Values on top of those that are shared; with more, all are shared again when the table is copied."""


class Layers(Generic[V]):
    """Names to values, in the order in which the names first came; none is ever taken out.

    A copy costs the same however long the table is: both go on with the same values beneath, which
    nobody changes any more, and with what changed lately of their own. Once in many changes all
    values are put together anew.

    Args:
        beneath: where it starts; must not be changed any more.
    """

    __slots__ = ("_beneath", "_late")

    def __init__(self, beneath: dict[str, V] | None = None) -> None:
        self._beneath: dict[str, V] = {} if beneath is None else beneath
        self._late: dict[str, V] = {}

    def copy(self) -> Layers[V]:
        """Another table that goes on from here and leaves this one as it is."""
        if len(self._late) > MOST_LATE:
            self._beneath, self._late = {**self._beneath, **self._late}, {}
        twin = Layers(self._beneath)
        twin._late = self._late.copy()
        return twin

    def __contains__(self, name: object) -> bool:
        return name in self._late or name in self._beneath

    def __getitem__(self, name: str) -> V:
        return self._late[name] if name in self._late else self._beneath[name]

    def get(self, name: str) -> V | None:
        """The value of a name; None without one."""
        return self._late[name] if name in self._late else self._beneath.get(name)

    def __setitem__(self, name: str, value: V) -> None:
        self._late[name] = value

    def values(self) -> Iterator[V]:
        """The values, in order."""
        late = self._late
        there = (late.get(name, value) for name, value in self._beneath.items())
        new = (value for name, value in late.items() if name not in self._beneath)
        return chain(there, new)

    def newest_first(self) -> Iterator[V]:
        """The values, the last name's first."""
        late, beneath = self._late, self._beneath
        new = (late[name] for name in reversed(late) if name not in beneath)
        there = (late.get(name, beneath[name]) for name in reversed(beneath))
        return chain(new, there)
