"""Entries as a table for spreadsheets: RFC 4180, and nothing in it that a spreadsheet would run.

Lines end in CR LF, text is quoted, a quote within it doubled, and the first line names the columns.
A cell of text that a spreadsheet could take for a formula gets an apostrophe in front (the common
practice of spreadsheet users; RFC 4180 knows no formulas). Numbers are plain: a point before the
decimals, no unit, which stands in the column's name.
"""

from __future__ import annotations

import csv
import io
import unicodedata
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from voicelog.domain.entry import Finding
from voicelog.domain.inert import inert
from voicelog.domain.slot import SLOTS, SlotValue
from voicelog.export.answer import entry_document
from voicelog.tongue import english_of

BOM = "\ufeff"
"""In front of a file's first line: without it, common spreadsheets read UTF-8 as something else."""

_STARTERS = frozenset("=+-@\u2212")
_BREAKS = frozenset("\t\r\n")
_QUOTES = "\"'`\u2018\u2019\u201c\u201d\u201e\u00ab\u00bb"
"""Marks that a spreadsheet may take off before it looks for a formula."""


@dataclass(frozen=True, slots=True)
class Line:
    """One entry, and what is told of it besides.

    Args:
        finding: the entry with its grade.
        place: in words.
        photos: names of the pictures that show it, as in the log's folder.
        work: what to do there, in order.
    """

    finding: Finding
    place: str = ""
    photos: Sequence[str] = field(default=())
    work: Sequence[str] = field(default=())


_Column = Callable[[Line, Mapping[str, Any]], object]


def _told(name: str) -> _Column:
    return lambda _, told: told.get(name, "")


def _list(name: str) -> _Column:
    return lambda _, told: "; ".join(map(str, told.get(name, ())))


def _ranges(_: Line, told: Mapping[str, Any]) -> str:
    ranges: Mapping[str, tuple[float, float]] = told.get("ranges", {})
    return "; ".join(f"{slot} {low:g} to {high:g}" for slot, (low, high) in ranges.items())


def _steps(line: Line, _: Mapping[str, Any]) -> str:
    steps = enumerate(map(english_of, line.work), 1)
    return "; ".join(f"{number}. {step}" for number, step in steps)


_HEAD: Mapping[str, _Column] = {
    "entry": _told("id"),
    "at": _told("at"),
    "kind": _told("kind"),
    "place": lambda line, _: english_of(line.place),
}
_TAIL: Mapping[str, _Column] = {
    "ranges": _ranges,
    "grade": _told("grade"),
    "computed_grade": _told("computed_grade"),
    "rules": _list("rules"),
    "unproven": _told("unproven"),
    "doubtful": _told("doubtful"),
    "doubts": _list("doubts"),
    "reason": _told("reason"),
    "absent": _list("absent"),
    "tags": _list("tags"),
    "cautions": lambda line, _: " ".join(line.finding.cautions),
    "said": _told("text"),
    "utterance": _told("utterance"),
    "photos": lambda line, _: "; ".join(line.photos),
    "work": _steps,
}
_COLUMNS: Mapping[str, _Column] = {**_HEAD, **{name: _told(name) for name in SLOTS}, **_TAIL}

COLUMNS = tuple(_COLUMNS)
"""Names of the columns, in order: those of the contract, units in them, and ``place``, ``said``,
``photos``, ``work``, ``cautions`` in words. New ones may come at the end."""


def findings_csv(lines: Iterable[Line]) -> str:
    """The entries as a table, one row each; entries that were withdrawn are left out.

    All kinds are there, remarks too: ``kind`` tells them apart, and what was said is not lost to
    whoever only has the table. A list within a cell is parted by ``; ``.

    Returns:
        Text with CR LF at the end of every line, the last one too. In a file, :data:`BOM` goes in
        front of it and the encoding is UTF-8.
    """
    table = io.StringIO(newline="")
    writer = csv.writer(table, quoting=csv.QUOTE_NONNUMERIC, lineterminator="\r\n")
    writer.writerow(COLUMNS)
    writer.writerows(_row(line) for line in lines if not line.finding.withdrawn)
    return table.getvalue()


def _row(line: Line) -> list[SlotValue]:
    told = entry_document(line.finding)
    return [_cell(column(line, told)) for column in _COLUMNS.values()]


def _cell(value: object) -> SlotValue:
    """A number as it is, everything else as text that does nothing."""
    if isinstance(value, bool):
        return str(value).lower()
    if isinstance(value, int | float):
        return value
    return harmless(str(value))


def harmless(text: str) -> str:
    """Text that no spreadsheet takes for a formula, without control or direction marks.

    Spaces and quotes in front are looked behind, and full-width signs count as the plain ones. What
    is told of this program's own numbers (``-3.2``) never comes here.
    """
    signs = (c for c in text if c.isprintable() and not c.isspace() and c not in _QUOTES)
    first = unicodedata.normalize("NFKC", next(signs, ""))[:1]
    runs = first in _STARTERS or text[:1] in _BREAKS
    return ("'" if runs else "") + inert(text)
