"""Places that a map has from another one: brake lines are called the same under any vehicle.

``as_in = "ladder-frame"`` in a ``[[zone]]`` or ``[[family]]`` takes over what that map says of the
place of the same id, or of the family of the same zones. It is filled in before the map is checked,
so that whatever reads maps sees whole ones.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from typing import Any

from voicelog.config.document import Document
from voicelog.config.faults import Fault
from voicelog.config.phrases import merging_key
from voicelog.config.places import AS_IN
from voicelog.tongue import worded

_NAMES = ("say", "misheard")
_IDENTITY = {"family": "zones", "zone": "id"}
"""What tells a row of one map from the others, by its table; in the order in which names are taken
over, so that one that several places share there stays shared here."""
_Row = Mapping[str, Any]


def filled(document: Document, others: Mapping[str, Document], faults: list[Fault]) -> Document:
    """A map with the keys of the places and families that it takes over.

    Args:
        document: the map.
        others: the maps it names, by their names.
        faults: what cannot be taken over is added here.
    """
    if not any(AS_IN in row for table in _IDENTITY for row in _rows(document, table)):
        return document
    filling = _Filling(document, others, faults, {merging_key(name) for name in _own(document)})
    lists = [table for table in _IDENTITY if isinstance(document.data.get(table), list)]
    whole = {
        table: [filling.row(table, n, row) for n, row in enumerate(document.data[table])]
        for table in lists
    }
    return replace(document, data={**document.data, **whole})


@dataclass(frozen=True, slots=True)
class _Filling:
    """Takes over rows for one map; ``taken`` holds the names that already have their place on it, at
    first those that the map writes itself.
    """

    document: Document
    others: Mapping[str, Document]
    faults: list[Fault]
    taken: set[str]

    def row(self, table: str, number: int, row: Any) -> Any:
        """The row with what it takes over; as it is where it takes nothing, or cannot."""
        if not isinstance(row, dict) or not isinstance(row.get(AS_IN), str):
            return row
        found = self._there(table, row)
        if found is None:
            message = worded(
                "the map {map} has no such {table} of its own", map=repr(row[AS_IN]), table=table
            )
            self.faults.append(self.document.fault((table, number, AS_IN), message))
            return row
        return {**found, **row, **self._names(found, row)}

    def _there(self, table: str, row: _Row) -> _Row | None:
        other, identity = self.others.get(row[AS_IN]), _IDENTITY[table]
        rows = _rows(other, table) if other is not None else ()
        alike = (one for one in rows if one.get(identity) == row.get(identity))
        return next((one for one in alike if AS_IN not in one), None)

    def _names(self, found: _Row, row: _Row) -> dict[str, list[object]]:
        """The row's own names, then those taken over that have no place on the map yet."""
        told = {}
        for key in _NAMES:
            mine, theirs = row.get(key, []), found.get(key, [])
            if isinstance(mine, list) and isinstance(theirs, list):
                more = [name for name in theirs if merging_key(str(name)) not in self.taken]
                told[key] = [*mine, *more]
                self.taken.update(merging_key(str(name)) for name in more)
        return told


def _own(document: Document) -> Iterator[str]:
    """Every spoken or misheard name that the file itself holds."""
    for row in (row for table in _IDENTITY for row in _rows(document, table)):
        for names in (row.get(key) for key in _NAMES):
            yield from (str(name) for name in names) if isinstance(names, list) else ()


def _rows(document: Document, table: str) -> tuple[_Row, ...]:
    rows = document.data.get(table)
    return tuple(row for row in rows if isinstance(row, dict)) if isinstance(rows, list) else ()
