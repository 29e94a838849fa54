"""Where in its file a line stands: the rule it belongs to, or the function. Line numbers move, these stay."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from functools import cache

_TOP = "<top>"
"""Of a rule file: above its first table."""

_MODULE = "<module>"
"""Of a Python file: in no function and no class."""

_TABLE = re.compile(r"^\[+(\w+)\]+$")
_ID = re.compile(r'^id = "([^"]+)"$')


@cache
def places_of(file: str, source: str) -> tuple[str, ...]:
    """The place of every line, the first of them that of line 1.

    In a rule file it is the table and its id (``rule hole``, ``limits``); in Python the qualified name of
    the innermost function or class.

    Args:
        file: its name, for what it ends in.
        source: what stands in it.
    """
    return tuple((_in_code if file.endswith(".py") else _in_tables)(source))


def _in_tables(source: str) -> Iterator[str]:
    lines = source.split("\n")
    place = _TOP
    for number, line in enumerate(lines):
        if table := _TABLE.match(line):
            place = " ".join((table[1], *_ids(lines[number + 1 :])))
        yield place


def _ids(after: list[str]) -> Iterator[str]:
    """The id of a table, in the first line that is not a remark."""
    first = next((line for line in after if not line.startswith("#")), "")
    if found := _ID.match(first):
        yield found[1]


def _in_code(source: str) -> list[str]:
    places = [_MODULE] * (source.count("\n") + 1)
    for name, node in _named(ast.parse(source), ""):
        assert node.end_lineno is not None
        places[node.lineno - 1 : node.end_lineno] = [name] * (node.end_lineno - node.lineno + 1)
    return places


_Named = ast.FunctionDef | ast.AsyncFunctionDef | ast.ClassDef


def _named(node: ast.AST, within: str) -> Iterator[tuple[str, _Named]]:
    """Every function and class with its qualified name, the outer before those in it."""
    for child in ast.iter_child_nodes(node):
        name = within
        if isinstance(child, _Named):
            name = f"{within}.{child.name}".lstrip(".")
            yield name, child
        yield from _named(child, name)
