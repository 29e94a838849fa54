"""Who imports whom in the program, read off its syntax; imports for types only do not count."""

from __future__ import annotations

import ast
from collections.abc import Iterator, Mapping

Graph = Mapping[str, set[str]]


def import_graph(modules: Mapping[str, ast.Module], *, late: bool) -> Graph:
    """Every module with those it imports.

    Args:
        modules: the syntax of each by its name.
        late: imports within functions as well, not only those made when a module is loaded.
    """
    return {
        name: {target for target in _targets(tree, modules, late) if target != name}
        for name, tree in modules.items()
    }


def circle_in(graph: Graph) -> list[str]:
    """One circle of imports, its first module again at its end; empty where there is none."""
    done: set[str] = set()
    for start in sorted(graph):
        found = _from(start, graph, [], done)
        if found:
            return found
    return []


def _from(name: str, graph: Graph, above: list[str], done: set[str]) -> list[str]:
    if name in above:
        return [*above[above.index(name) :], name]
    if name in done:
        return []
    for target in sorted(graph.get(name, ())):
        found = _from(target, graph, [*above, name], done)
        if found:
            return found
    done.add(name)
    return []


def _targets(tree: ast.Module, modules: Mapping[str, object], late: bool) -> Iterator[str]:
    for node in _running(tree, late):
        if isinstance(node, ast.Import):
            yield from (name.name for name in node.names if name.name in modules)
        elif isinstance(node, ast.ImportFrom) and node.module in modules:
            inner = [f"{node.module}.{name.name}" for name in node.names]
            yield from (name if name in modules else str(node.module) for name in inner)


def _running(tree: ast.AST, late: bool) -> Iterator[ast.AST]:
    """Every node that runs: nothing for type checkers only, functions' bodies only where asked for."""
    for node in ast.iter_child_nodes(tree):
        if isinstance(node, ast.If) and "TYPE_CHECKING" in ast.unparse(node.test):
            continue
        if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef) and not late:
            continue
        yield node
        yield from _running(node, late)
