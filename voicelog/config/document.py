"""A TOML file as it was read, and the check of its contents against a model."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from itertools import islice
from pathlib import Path
from typing import Any, ClassVar, Generic, TypeVar

from pydantic import BaseModel, ConfigDict, ValidationError
from pydantic_core import ErrorDetails

from voicelog.config.faults import Fault
from voicelog.config.positions import Loc, line_of
from voicelog.config.toml_file import bounded, parsed
from voicelog.config.wording import in_words
from voicelog.tongue import to_word, worded

_MOST_TOLD = 200
"""Faults of one file that are put into words: nobody reads more, and each takes a search for names."""


class Sheet(BaseModel):
    """Base of every model of a hand-written file: no unknown keys, nothing converted."""

    model_config = ConfigDict(extra="forbid", frozen=True, allow_inf_nan=False)

    blank: ClassVar[Mapping[str, object]] = {}
    """Stand-ins for required keys, so that the rest of a faulty file can still be checked."""


class Table(Sheet):
    """Base of the tables inside a file: built with the file's model only, to start up faster."""

    model_config = ConfigDict(defer_build=True)


SheetT = TypeVar("SheetT", bound=Sheet)


@dataclass(frozen=True, slots=True)
class Document:
    """A TOML file.

    Args:
        name: how faults call it: its path, from the current folder where it lies below that.
        raw: its bytes, as a log copies them.
        text: the same as text.
        data: the same as parsed; empty when it cannot be.
        broken: True when it could not be read or parsed.
        kept: of each array from which faulty elements were dropped, the places of the others.
    """

    name: str
    raw: bytes
    text: str = ""
    data: Mapping[str, Any] = field(default_factory=dict)
    broken: bool = False
    kept: Mapping[str, Sequence[int]] = field(default_factory=dict)

    def fault(self, loc: Loc, message: str) -> Fault:
        """A fault at a place of this file, counted as its checked sheet counts."""
        key = ".".join(part for part in loc if isinstance(part, str))
        return Fault(self.name, line_of(self.text, self._as_written(loc)), key, message)

    def _as_written(self, loc: Loc) -> Loc:
        """The way in the file, where the dropped elements still count."""
        match loc:
            case (str(table), int(number), *rest) if table in self.kept:
                return (table, self.kept[table][number], *rest)
        return loc

    @property
    def stem(self) -> str:
        """The file's name without folder and ending."""
        return Path(self.name).stem

    def ids(self, table: str) -> tuple[str, ...]:
        """The ``id`` of every entry of an array of tables, faulty entries included."""
        entries = self.data.get(table)
        rows = entries if isinstance(entries, list) else []
        found = (row.get("id") for row in rows if isinstance(row, dict))
        return tuple(name for name in found if isinstance(name, str))


@dataclass(frozen=True, slots=True)
class Read(Generic[SheetT]):
    """A file and what its model made of it."""

    document: Document
    sheet: SheetT

    def faults(self, found: Iterable[tuple[Loc, str]]) -> Iterator[Fault]:
        """Faults found in the sheet, at their lines; none in a file that could not be parsed."""
        if not self.document.broken:
            yield from (self.document.fault(loc, message) for loc, message in found)


def read_document(path: Path, faults: list[Fault]) -> Document:
    """Read a file; what keeps it from being read is added to ``faults`` and leaves it empty."""
    here = Path.cwd()
    name = str(path.relative_to(here) if path.is_relative_to(here) else path)
    try:
        raw = bounded(path)
    except OSError as error:
        faults.append(
            Fault(name, 1, "", worded("cannot be read: {why}", why=error.strerror or error))
        )
        return Document(name, b"", broken=True)
    return parse_document(raw, name, faults)


def parse_document(raw: bytes, name: str, faults: list[Fault]) -> Document:
    """The same from bytes already at hand."""
    text = ""
    try:
        text = raw.decode("utf-8-sig").replace("\r\n", "\n")
        return Document(name, raw, text, parsed(text))
    except UnicodeDecodeError as error:
        line = raw.count(b"\n", 0, error.start) + 1
        faults.append(Fault(name, line, "", worded("is not UTF-8 text")))
    except tomllib.TOMLDecodeError as error:
        faults.append(_syntax_fault(name, text, str(error)))
    return Document(name, raw, text, broken=True)


def _syntax_fault(name: str, text: str, message: str) -> Fault:
    """A parser's message with its position moved to the front."""
    place = re.search(r" \(at (?:line (\d+), column (\d+)|end of document)\)", message)
    line = int(place[1]) if place and place[1] else text.count("\n") + 1
    what = message.replace(place[0], "") if place else message
    what = f"{what[:1].lower()}{what[1:]}"
    if place and place[2]:
        told = to_word("column {column}: not valid TOML: {what}")
        return Fault(name, line, "", worded(told, column=place[2], what=what))
    return Fault(name, line, "", worded("not valid TOML: {what}", what=what))


def checked(document: Document, model: type[SheetT], faults: list[Fault]) -> Read[SheetT]:
    """The file as a model; faulty parts are added to ``faults`` and left out."""
    try:
        return Read(document, model.model_validate(document.data, strict=True))
    except ValidationError as error:
        problems = error.errors(include_url=False)
    if not document.broken:
        faults.extend(_told(document, model, problems))
    bad = [problem["loc"] for problem in problems]
    sound = dict(_sound_part(document.data, bad))
    sheet = model.model_validate({**model.blank, **sound}, strict=True)
    return Read(replace(document, kept=_kept(document.data, bad)), sheet)


def _told(
    document: Document, model: type[Sheet], problems: Iterable[ErrorDetails]
) -> Iterator[Fault]:
    """Faults in plain words for what a model did not accept; of very many, the first ones."""
    for problem in islice(problems, _MOST_TOLD):
        yield document.fault(problem["loc"], in_words(model, problem))


def _sound_part(data: Mapping[str, Any], bad: Sequence[Loc]) -> Iterator[tuple[str, object]]:
    """The top-level keys that hold no fault, and the sound elements of arrays that do."""
    whole = {loc[0] for loc in bad if len(loc) == 1}
    for key, value in data.items():
        if key in whole:
            continue
        if isinstance(value, list):
            yield key, [value[n] for n in _kept(data, bad)[key]]
        elif not any(loc[0] == key for loc in bad):
            yield key, value


def _kept(data: Mapping[str, Any], bad: Sequence[Loc]) -> dict[str, list[int]]:
    """Of each array, the places of its sound elements."""
    parts = {loc[:2] for loc in bad}
    arrays = {key: value for key, value in data.items() if isinstance(value, list)}
    return {
        key: [n for n in range(len(value)) if (key, n) not in parts]
        for key, value in arrays.items()
    }
