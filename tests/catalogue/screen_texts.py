"""Texts that a screen shows as they stand in the code, beside every catalogue."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator

from tests.catalogue.calls import MARKS

SHOWN = {
    "Content": slice(0, 1), "styled": slice(0, 1), "assemble": slice(0, None), "Static": slice(0, 1),
    "Field": slice(1, 2), "Binding": slice(2, 3), "Listed": slice(1, 2), "Look": slice(0, 1),
    "Deed": slice(1, 2), "Mark": slice(1, 2), "row": slice(1, 3), "Row": slice(0, 1),
    "help_row": slice(1, 2), "help_title": slice(0, 1), "say": slice(0, 1), "tell": slice(0, 1),
    "notice": slice(0, 1), "answer": slice(0, 1), "complain": slice(0, 1), "notify": slice(0, 1),
    "wait_for": slice(1, 3), "sentence": slice(2, 3), "__init__": slice(0, 1), "update": slice(0, 1),
    "ValueDialog": slice(1, 2), "ReasonDialog": slice(0, 2), "AlternativeRow": slice(1, 2),
}  # fmt: skip
"""What is called to show something, and which of its arguments people read."""

NAMED = ("title", "label", "example", "description", "tooltip", "placeholder", "detail", "drop", "help", "how", "hint")  # fmt: skip
"""The same arguments, where they are given by name."""

KEPT = ("border_title", "border_subtitle", "BORDER_TITLE", "BORDER_SUBTITLE", "HINT", "TITLE", "SUB_TITLE")  # fmt: skip
"""What a widget keeps its texts in."""

_STYLE = re.compile(r".*\$.*|(bold|dim|not|on|strike|underline|[ ])*")
_PROSE = re.compile(r"(?i:[a-z]{2,}[,;:.]? +[a-z]|^[a-z]{3,}[.!?:]$)|^[A-Z0-9]{3,}")
"""Two words, one with a full stop, or capitals: nobody's name for anything."""


def plain_texts(tree: ast.Module) -> Iterator[tuple[int, str]]:
    """Line and text of each: whatever is shown, and anything else that reads like a sentence."""
    silent = _silent(tree)
    for node in ast.walk(tree):
        yield from ((one.lineno, one.value) for one in _shown(node) if one not in silent)
        match node:
            case ast.Constant(value=str(text)) if node not in silent and _reads(text):
                yield node.lineno, text


def _reads(text: str) -> bool:
    return bool(_PROSE.search(text)) and not _STYLE.fullmatch(text)


def _silent(tree: ast.Module) -> set[ast.AST]:
    """What is marked for the catalogue, docstrings, and descriptions of keys that no line names."""
    found: set[ast.AST] = set()
    for node in ast.walk(tree):
        match node:
            case ast.Expr(value=ast.Constant() as told):
                found.add(told)
            case ast.Call(func=ast.Name(id=name), args=args) if name in MARKS:
                found |= set(args[MARKS[name]])
            case ast.Call(func=ast.Name(id="Binding"), keywords=named) if _hidden(named):
                found |= set(node.args)
    return found


def _hidden(named: list[ast.keyword]) -> bool:
    return any(one.arg == "show" and ast.unparse(one.value) == "False" for one in named)


def _shown(node: ast.AST) -> Iterator[ast.Constant]:
    """Literals with letters that this piece of syntax shows."""
    match node:
        case ast.Call(func=function, args=args, keywords=named):
            name = ast.unparse(function).rpartition(".")[2]
            own = name == "__init__" and not ast.unparse(function).startswith("super()")
            yield from _literals([] if own else args[SHOWN.get(name, slice(0, 0))])
            yield from _literals([one.value for one in named if one.arg in NAMED])
        case ast.Assign(targets=[target], value=value) | ast.AnnAssign(target=target, value=value):
            if value is not None and ast.unparse(target).rpartition(".")[2] in KEPT:
                yield from _literals([value])


def _literals(nodes: list[ast.expr]) -> Iterator[ast.Constant]:
    """Those as they stand, in an f-string, as one of two, or with a style behind them."""
    for node in nodes:
        match node:
            case ast.Constant(value=str(text)) if any(letter.isalpha() for letter in text):
                yield node
            case ast.JoinedStr(values=parts):
                yield from _literals(parts)
            case ast.IfExp(body=one, orelse=other) | ast.BinOp(left=one, right=other):
                yield from _literals([one, other])
            case ast.BoolOp(values=parts):
                yield from _literals(parts)
            case ast.Tuple(elts=[first, *_]):
                yield from _literals([first])
            case ast.Starred(value=inner) | ast.NamedExpr(value=inner):
                yield from _literals([inner])
