"""The words, map and rules in force, copied into the log and watched over.

A log is folded with its own copy, so that editing a rule never regrades an old log by itself.
"""

from __future__ import annotations

import hashlib
import os
from collections.abc import Collection, Mapping
from pathlib import Path
from typing import Any

from voicelog.domain.fact import Fact
from voicelog.domain.inert import inert
from voicelog.errors import InputFault, LogFault
from voicelog.journal.naming import GRAMMAR, lies_inside
from voicelog.journal.own_files import is_own, is_own_folder, sha256_of
from voicelog.journal.storage import make_folder, reading, write_file
from voicelog.tongue import worded

_MOST_FILES = 200
"""Of a log's copy; the shipped grammar has a dozen."""


def copy_grammar(folder: Path, files: Mapping[str, bytes]) -> dict[str, str]:
    """Writes the files below ``grammar/``.

    Args:
        folder: the log's.
        files: relative name, ``/`` between folders, to contents.

    Returns:
        Name to SHA-256, in name order.

    Raises:
        InputFault: when a name leads elsewhere, or is none on some system.
        OSError: when the disk refuses them.
    """
    strays = [name for name in files if not lies_inside(name)]
    if strays:
        raise InputFault(
            worded(
                "The grammar file {name} has a name that some systems cannot store",
                name=repr(strays[0]),
            ),
            worded("Rename it, in plain letters."),
        )
    make_folder(folder / GRAMMAR)
    for name in sorted(files):
        _copy(folder / GRAMMAR, name, files[name])
    return {name: hashlib.sha256(files[name]).hexdigest() for name in sorted(files)}


def _copy(grammar: Path, name: str, contents: bytes) -> None:
    path = grammar / name
    for above in reversed(path.relative_to(grammar).parents[:-1]):
        if not (grammar / above).is_dir():
            make_folder(grammar / above)
    write_file(path, contents)


def map_of(opened: Mapping[str, Any]) -> str:
    """The map that a log was made with, by its id.

    Args:
        opened: what the line that opened it says; one that names no map was made with the usual one.
    """
    return str(opened.get("map", "ladder-frame"))


_LONGEST_NAME = 60


def grammar_problems(folder: Path, opened: Fact) -> tuple[str, ...]:
    """What is wrong with a log's copy, one sentence each; none when it is as it was written."""
    hashes = opened.body.get("grammar")
    if not isinstance(hashes, dict):
        return (worded("Line 1 does not say which grammar was in force"),)
    if len(hashes) > _MOST_FILES:
        return (worded("Line 1 has more than {most} grammar files", most=_MOST_FILES),)
    if os.path.lexists(folder / GRAMMAR) and not is_own_folder(folder / GRAMMAR):
        return (worded("{folder} is a link, or no folder", folder=GRAMMAR),)
    with reading(folder):
        listed = [_problem(folder / GRAMMAR, name, hashes[name]) for name in hashes]
        found = _found(folder / GRAMMAR)
    added = [
        worded("{file} was not there when the log was opened", file=repr(f"{GRAMMAR}/{name}"))
        for name in sorted(found - set(hashes))
    ]
    lacking = _map_problem(map_of(opened.body), hashes)
    return tuple(problem for problem in (*listed, *added, lacking) if problem)


def _map_problem(name: str, hashes: Collection[str]) -> str:
    """What is wrong with the map that a log names: it must be one of its own, and no path to another."""
    if f"maps/{name}.toml" in hashes and "/" not in name:
        return ""
    if any(kept.startswith("maps/") for kept in hashes) or not lies_inside(f"{name}.toml"):
        return worded(
            "Line 1 names a map of which the log has no copy, {map}",
            map=repr(inert(name, _LONGEST_NAME)),
        )
    return ""


def _problem(grammar: Path, name: str, sha256: object) -> str:
    if not lies_inside(name):
        return worded("Line 1 has a grammar file of an impossible name, {name}", name=repr(name))
    path = grammar / name
    if not is_own(path):
        return worded("{file} is missing", file=f"{GRAMMAR}/{name}")
    if sha256_of(path) != sha256:
        return worded("{file} was changed after the log was opened", file=f"{GRAMMAR}/{name}")
    return ""


def _found(grammar: Path) -> set[str]:
    return {path.relative_to(grammar).as_posix() for path in grammar.rglob("*.toml")}


def kept_grammar(folder: Path, opened: Fact) -> Path:
    """The folder of a log's own copy, to load its words, map and rules from.

    Args:
        folder: the log's.
        opened: its first fact.

    Raises:
        LogFault: when the copy is not as it was written; grades would silently change.
    """
    problems = grammar_problems(folder, opened)
    if problems:
        raise LogFault(
            worded(
                "The log's copy of the grammar cannot be trusted: {problem}", problem=problems[0]
            ),
            worded(
                "Put back the log's grammar folder from a copy; voicelog verify lists every change."
            ),
        )
    return folder / GRAMMAR
