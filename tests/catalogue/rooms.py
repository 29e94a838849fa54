"""Sentences that stand in a module as they are: two words in a row, outside of what marks a text."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator

from tests.catalogue.calls import MARKS

_SENTENCE = re.compile(r"(?<![\w/{<-])[A-Za-z]?[a-z'’]+[,;:.]? [a-z'’]{2,}(?![\w/])")
"""Two words in a row, the second in small letters: nobody but a person reads such a text."""

NOT_FOR_PEOPLE = (
    "Field", "OneOf", "compile", "escape", "option", "argument", "command", "group", "Option",
    "ValueError", "TypeError", "RuntimeError", "AssertionError", "NotImplementedError", "KeyError",
    "PydanticCustomError", "Thread", "getLogger", "debug", "ConfigDict",
)  # fmt: skip
"""Calls whose texts are for programs and programmers, or are told elsewhere: descriptions in schemas
(`shared/GRAMMAR.md` is made of them), patterns, what click shows as help (the catalogue has it), faults of
the program itself."""


def sentences(tree: ast.Module) -> Iterator[tuple[int, str]]:
    """Line and text of every sentence that no catalogue has.

    Args:
        tree: a module.
    """
    seen = {id(node) for inner in _left_out(tree) for node in ast.walk(inner)}
    for node in ast.walk(tree):
        if id(node) not in seen and (text := _text(node)) is not None and _SENTENCE.search(text):
            yield node.lineno, text  # type: ignore[attr-defined]


def _left_out(tree: ast.Module) -> Iterator[ast.AST]:
    """Docstrings, marked texts, what is not for people, and the parts of f-strings."""
    for node in ast.walk(tree):
        match node:
            case ast.Expr(value=ast.Constant(value=str())):
                yield node
            case ast.JoinedStr(values=parts):
                yield from (part for part in parts if isinstance(part, ast.Constant))
            case ast.Call(func=function, args=args):
                name = ast.unparse(function).rpartition(".")[2]
                if name in MARKS:
                    yield from args[MARKS[name]]
                elif name in NOT_FOR_PEOPLE:
                    yield node


def _text(node: ast.AST) -> str | None:
    match node:
        case ast.Constant(value=str(text)):
            return text
        case ast.JoinedStr(values=parts):
            return "".join(str(p.value) if isinstance(p, ast.Constant) else "{}" for p in parts)
    return None
