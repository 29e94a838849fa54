"""Functions, classes, methods and constants that nothing in the program names but their own definition."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator, Mapping

HOOK = re.compile(
    r"__\w+__|(on|action|watch|validate|render|check|compute|key|visit|handle)_\w+|compose|render|"
    r"get_default_screen|get_content_\w+|get_component_rich_style|format_commands|(list|get)_commands?|main"
)
"""Names that frameworks call: Textual's and click's hooks, the special methods of Python."""

Definition = ast.FunctionDef | ast.AsyncFunctionDef | ast.ClassDef


def unused(modules: Mapping[str, ast.Module]) -> set[str]:
    """``module: name`` for whatever is defined at the top of a module or class and never named."""
    named = {name for tree in modules.values() for name in _named(tree)}
    return {
        f"{module}: {name}"
        for module, tree in modules.items()
        for name in _defined(tree)
        if name not in named and not HOOK.fullmatch(name)
    }


def _defined(tree: ast.AST) -> Iterator[str]:
    """Names given at the top, and methods; what a decorator registers is used by it."""
    for node in ast.iter_child_nodes(tree):
        if isinstance(node, Definition) and not _registered(node):
            yield node.name
        if isinstance(node, ast.ClassDef):
            yield from (one.name for one in node.body if _is_method(one))
        if isinstance(tree, ast.Module):
            yield from _assigned(node)


def _is_method(node: ast.AST) -> bool:
    return isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef) and not _registered(node)


def _registered(node: Definition) -> bool:
    """True under a decorator that hands the function to somebody, such as a click command."""
    plain = {
        "dataclass",
        "cache",
        "property",
        "staticmethod",
        "classmethod",
        "lru_cache",
        "override",
    }
    names = (ast.unparse(one).partition("(")[0] for one in node.decorator_list)
    return any(
        name.rpartition(".")[2] not in plain | {"contextmanager", "cached_property"}
        for name in names
    )


def _assigned(node: ast.AST) -> Iterator[str]:
    targets = node.targets if isinstance(node, ast.Assign) else []
    if isinstance(node, ast.AnnAssign):
        targets = [node.target]
    yield from (target.id for target in targets if isinstance(target, ast.Name))


def _named(tree: ast.AST) -> Iterator[str]:
    """Every name that is read, called, imported, given as a keyword, or written in a short text."""
    for node in ast.walk(tree):
        match node:
            case (
                ast.Name(id=name, ctx=ast.Load())
                | ast.Attribute(attr=name)
                | ast.keyword(arg=str(name))
            ):
                yield name
            case ast.ImportFrom(names=names):
                yield from (one.name for one in names)
            case ast.Constant(value=str(text)) if len(text) < 80:
                yield from re.findall(r"\w+", text)
