"""Grammars that were checked before, kept so that a start need not check the same bytes again.

A kept grammar is found by a hash of every byte of its files and of what checks them, so a changed
file is always read and checked anew. Whatever is wrong with the cache, the files are still there.
"""

from __future__ import annotations

import hashlib
import json
import os
import sys
from collections.abc import Callable, Mapping
from contextlib import suppress
from pathlib import Path

from voicelog import __version__
from voicelog.config.grammar import Grammar, files_in_force, grammar_in_force, load_grammar
from voicelog.config.places import grammar_files
from voicelog.config.plain import from_plain, to_plain
from voicelog.config.settings import Settings
from voicelog.config.toml_file import bounded

KEPT = 8
"""Grammars kept; the oldest go first."""

_PACKAGE = Path(__file__).resolve().parents[1]


def cache_folder() -> Path:
    """Where they lie: in the user's cache folder, which may be emptied at any time."""
    from platformdirs import user_cache_path

    return user_cache_path("voicelog", appauthor=False) / "grammar"


def checked_grammar(settings: Settings) -> Grammar:
    """The grammar in force, without ``written``, from the cache where these very files lie in it.

    Raises:
        UsageFault: the folder or the map is not there.
        GrammarFault: anything is wrong with the files; all faults at once.
    """
    if settings.attention != Settings.attention:
        return grammar_in_force(settings)  # it tells where the chosen word is taken
    return _cached(files_in_force(settings), lambda: grammar_in_force(settings))


def checked_folder(map_id: str, folder: Path) -> Grammar:
    """A whole grammar folder, such as a log's own copy, without ``written``; from the cache where it
    was checked before.

    Args:
        map_id: a map of the folder.
        folder: where it lies.

    Raises:
        UsageFault: the folder or the map is not there.
        GrammarFault: anything is wrong with the files; all faults at once.
    """
    paths = grammar_files(folder, map_id, ())
    return _cached(paths, lambda: load_grammar(map_id, folder=folder))


def _cached(paths: Mapping[str, Path], load: Callable[[], Grammar]) -> Grammar:
    try:
        return _kept({name: bounded(path) for name, path in paths.items()})
    except Exception:  # of a cache, anything: it is only a short cut
        grammar = load()
    with suppress(OSError):
        _keep(grammar)
    return grammar


def _kept(files: Mapping[str, bytes]) -> Grammar:
    """The grammar kept for these files.

    Raises:
        OSError: there is none.
        ValueError: it is damaged.
    """
    name = _name(files)
    seal, _, body = (cache_folder() / name).read_bytes().partition(b"\n")
    if seal != _seal(name, body):
        raise ValueError("a damaged cache")
    return from_plain(json.loads(body), files)


def _keep(grammar: Grammar) -> None:
    """Write it whole or not at all, named after the bytes that were checked, and drop old ones.

    Raises:
        OSError: the folder or the disk refuses.
    """
    folder, name = cache_folder(), _name(grammar.files)
    body = json.dumps(to_plain(grammar), separators=(",", ":")).encode()
    folder.mkdir(mode=0o700, parents=True, exist_ok=True)
    draft = folder / f"{name}.{os.getpid()}"
    try:
        draft.touch(mode=0o600)  # a shop's own words are nobody else's business
        draft.write_bytes(_seal(name, body) + b"\n" + body)
        draft.replace(folder / name)
    finally:
        draft.unlink(missing_ok=True)
    there = sorted(folder.iterdir(), key=lambda path: path.stat().st_mtime, reverse=True)
    for old in there[KEPT:]:
        old.unlink(missing_ok=True)


def _name(files: Mapping[str, bytes]) -> str:
    """The hash of the files and of what checks them: program, its code, and Python."""
    hashed = hashlib.sha256(f"{__version__} {sys.version} {_code()}".encode())
    for name, raw in files.items():
        hashed.update(f"\0{name}\0{len(raw)}\0".encode() + raw)
    return hashed.hexdigest()


def _code() -> str:
    """Size and time of every file that reads grammars: a checkout changes without a version."""
    parts = (path for part in ("config", "domain") for path in os.scandir(_PACKAGE / part))
    told = sorted((file.name, file.stat()) for file in parts if file.name.endswith(".py"))
    return " ".join(f"{name} {stat.st_size} {stat.st_mtime_ns}" for name, stat in told)


def _seal(name: str, body: bytes) -> bytes:
    """Tells a whole file in its place from a damaged one."""
    return hashlib.sha256(name.encode() + body).hexdigest().encode()
