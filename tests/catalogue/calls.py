"""Where texts for people stand in the program, read off its syntax."""

from __future__ import annotations

import ast
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

MARKS = {
    "worded": slice(0, 1), "to_word": slice(0, 1), "worded_many": slice(0, 2), "counted": slice(1, 3),
}  # fmt: skip
"""The functions that take a text, and which of their arguments it is."""

COUNTED = "count"
"""The name that :func:`voicelog.tongue.worded_many` gives the number itself."""


@dataclass(frozen=True, slots=True)
class Marked:
    """One use of a marking function.

    Args:
        where: module and line.
        forms: the texts, where they are literals; empty for a constant's name.
        given: names of the values that are given with it.
        function: which one it is.
        literal: what stands there is a literal or a name; False for anything put together.
    """

    where: str
    forms: tuple[str, ...]
    given: frozenset[str]
    function: str
    literal: bool


def marked(modules: Mapping[str, ast.Module]) -> Iterator[Marked]:
    """Every use of a marking function outside the module that defines them."""
    for module, tree in modules.items():
        for node in ast.walk(tree):
            match node:
                case ast.Call(func=ast.Name(id=name)) if name in MARKS:
                    yield _marked(f"{module}:{node.lineno}", node, name)


def _marked(where: str, call: ast.Call, name: str) -> Marked:
    texts = call.args[MARKS[name]]
    forms = tuple(
        one.value for one in texts if isinstance(one, ast.Constant) and isinstance(one.value, str)
    )
    put_together = (ast.JoinedStr, ast.BinOp, ast.Call)
    given = frozenset(str(one.arg) for one in call.keywords)
    return Marked(
        where, forms, given, name, not any(isinstance(one, put_together) for one in texts)
    )


def faults(modules: Mapping[str, ast.Module]) -> set[str]:
    """Names of all classes of faults."""
    found, before = {"VoicelogError"}, set[str]()
    while found != before:
        before = set(found)
        for tree in modules.values():
            found |= {
                node.name
                for node in ast.walk(tree)
                if isinstance(node, ast.ClassDef) and before & set(map(ast.unparse, node.bases))
            }
    return found


def bare(modules: Mapping[str, ast.Module], functions: Mapping[str, slice]) -> Iterator[str]:
    """Places where a text that no catalogue has is handed to one of these functions.

    Args:
        modules: the syntax of each by its name.
        functions: the name that is called, and which of its arguments people read.
    """
    for module, tree in modules.items():
        for node in ast.walk(tree):
            if isinstance(node, ast.Call) and (called := _name_of(node.func)) in functions:
                read = (*node.args[functions[called]], *_named(node))
                yield from (f"{module}:{one.lineno}" for one in read if _is_bare(one))


def _named(call: ast.Call) -> Iterator[ast.expr]:
    yield from (one.value for one in call.keywords if one.arg in ("message", "hint"))


def _name_of(function: ast.expr) -> str:
    return ast.unparse(function).rpartition(".")[2]


def _is_bare(node: ast.expr) -> bool:
    """A literal with a word in it, as it stands, in an f-string or as one of two."""
    match node:
        case ast.Constant(value=str(text)):
            return any(one.isalpha() for one in text)
        case ast.JoinedStr(values=parts):
            return any(_is_bare(part) for part in parts)
        case ast.IfExp(body=one, orelse=other) | ast.BinOp(left=one, right=other):
            return _is_bare(one) or _is_bare(other)
    return False
