"""What a module touches outside the program, read off its syntax: the disk, the clock, other programs."""

from __future__ import annotations

import ast
from collections.abc import Iterator

MODULES = {
    "socket", "subprocess", "urllib", "http", "shutil", "tempfile", "multiprocessing", "secrets", "getpass", "locale",
}  # fmt: skip
"""Importing one of these is meant to reach outside."""

METHODS = {
    "read_text", "read_bytes", "write_text", "write_bytes", "open", "mkdir", "unlink", "iterdir", "glob", "rglob",
    "exists", "is_file", "is_dir", "stat", "lstat", "touch", "rmdir", "chmod", "symlink_to", "resolve", "expanduser",
    "samefile", "home", "cwd",
}  # fmt: skip
"""Methods of a path that ask the disk or change it."""

CLOCKS = {
    "time.time", "time.time_ns", "time.monotonic", "time.monotonic_ns", "time.perf_counter", "time.sleep",
    "datetime.now", "datetime.utcnow", "datetime.today", "date.today", "time.localtime", "time.gmtime",
}  # fmt: skip

PURE_OS = {
    "os.fspath",
    "os.fsencode",
    "os.fsdecode",
    "os.PathLike",
    "os.sep",
    "os.linesep",
    "os.strerror",
    "os.path",
}
"""Parts of ``os`` that ask nobody."""


def touches(tree: ast.Module) -> set[str]:
    """Whatever a module reaches for outside, each once, as it is written."""
    return {found for node in ast.walk(tree) for found in _of(node)}


def _of(node: ast.AST) -> Iterator[str]:
    match node:
        case ast.Import(names=names):
            yield from (name.name for name in names if name.name.partition(".")[0] in MODULES)
        case ast.ImportFrom(module=str(module)) if module.partition(".")[0] in MODULES:
            yield module
        case ast.ImportFrom(module="os" | "time", names=names):
            yield from (f"{node.module}.{name.name}" for name in names)
        case ast.Call(func=ast.Name(id="open")):
            yield "open"
        case ast.Call(func=ast.Attribute(attr=method)) if method in METHODS:
            yield f".{method}"
        case ast.Attribute(value=ast.Name(id=owner), attr=name):
            if f"{owner}.{name}" in CLOCKS or (owner == "os" and f"os.{name}" not in PURE_OS):
                yield f"{owner}.{name}"
