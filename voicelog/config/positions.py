"""On which line of a TOML text a key stands; the standard parser keeps no positions."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator
from functools import lru_cache

Loc = tuple[str | int, ...]
"""The way to a value: keys, and indices into arrays."""

_STRING = r'"""(?:\\.|[^\\])*?"""|\'\'\'.*?\'\'\'|"(?:\\.|[^"\\\n])*"|\'[^\'\n]*\''
_TOKEN = re.compile(
    rf"(?P<string>{_STRING})|(?P<comment>#[^\n]*)|(?P<mark>[\[\]{{}}\n])", re.DOTALL
)
_PART = r'(?:[A-Za-z0-9_-]+|"[^"\n]*"|\'[^\'\n]*\')'
_NAME = rf"{_PART}(?:\s*\.\s*{_PART})*"
_HEADER = re.compile(rf"\s*(\[\[?)\s*({_NAME})\s*\]")
_KEY = re.compile(rf"\s*({_NAME})\s*=")


def line_of(text: str, loc: Loc) -> int:
    """The line, counted from 1, of the value at ``loc`` or of the nearest thing around it."""
    lines = _index(text)
    for length in range(len(loc), 0, -1):
        found = lines.get(loc[:length])
        if found:
            line, statement = found
            return line + _lines_into(statement, loc[length:])
    return 1


@lru_cache(maxsize=8)
def _index(text: str) -> dict[Loc, tuple[int, str]]:
    """Every header and key: its way, line and whole statement (the first of each wins)."""
    found: dict[Loc, tuple[int, str]] = {}
    seen: Counter[Loc] = Counter()
    table: Loc = ()
    for line, statement in _statements(text):
        if header := _HEADER.match(statement):
            table = _table(header, seen)
            for length in range(1, len(table) + 1):
                found.setdefault(table[:length], (line, statement))
        elif key := _KEY.match(statement):
            way = table
            for part in _parts(key[1]):
                way = (*way, part)
                found.setdefault(way, (line, statement))
    return found


def _table(header: re.Match[str], seen: Counter[Loc]) -> Loc:
    """The way to the table that a header opens; ``[a.b]`` goes into the last ``[[a]]``."""
    way: Loc = ()
    parts = _parts(header[2])
    for part in parts[:-1]:
        way = (*way, part)
        if seen[way]:
            way = (*way, seen[way] - 1)
    way = (*way, parts[-1])
    if header[1] == "[[":
        seen[way] += 1
        way = (*way, seen[way] - 1)
    return way


def _parts(name: str) -> list[str]:
    """The parts of a dotted name without their quotes."""
    return [part.strip("\"'") for part in re.findall(_PART, name)]


def _statements(text: str) -> Iterator[tuple[int, str]]:
    """Whole statements with their first line; brackets and long strings carry over lines."""
    start, line, first, depth = 0, 1, 1, 0
    for token in _TOKEN.finditer(text):
        mark = token["mark"]
        if mark == "\n" and depth == 0:
            yield first, text[start : token.start()]
            start, first = token.end(), line + 1
        depth += (mark in ("[", "{")) - (mark in ("]", "}")) if mark else 0
        line += token[0].count("\n")
    yield first, text[start:]


def _lines_into(statement: str, rest: Loc) -> int:
    """How many lines into its statement the n-th string of an array, or an inline key, stands."""
    if not rest:
        return 0
    if isinstance(rest[0], str):
        inner = re.search(rf"[{{,]\s*[\"']?{re.escape(rest[0])}[\"']?\s*=", statement)
        return statement.count("\n", 0, inner.end()) if inner else 0
    strings = [token for token in _TOKEN.finditer(statement) if token["string"]]
    if rest[0] >= len(strings):
        return 0
    return statement.count("\n", 0, strings[rest[0]].start())
