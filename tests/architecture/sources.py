"""The program's modules and their syntax, read once for all tests of how it is built."""

from __future__ import annotations

import ast
from collections.abc import Mapping
from functools import cache
from pathlib import Path

VOICELOG = Path(__file__).parents[2] / "voicelog"


@cache
def trees(package: Path = VOICELOG) -> Mapping[str, ast.Module]:
    """Every module of a package by its dotted name, such as ``voicelog.domain.fact``."""
    return {
        _name(path, package): ast.parse(path.read_bytes()) for path in sorted(package.rglob("*.py"))
    }


def room_of(module: str) -> str:
    """The room a module lies in: ``domain`` for ``voicelog.domain.fact``; itself at the top."""
    return module.split(".")[1] if "." in module else module


def _name(path: Path, package: Path) -> str:
    parts = path.relative_to(package.parent).with_suffix("").parts
    return ".".join(parts[:-1] if parts[-1] == "__init__" else parts)
