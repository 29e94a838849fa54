"""Grammars that were checked before, kept so that a start need not check the same bytes again.

A kept grammar is found by a hash of every byte of its files and of what checks them, so a changed
file is always read and checked anew (:mod:`voicelog.config.short_cut`).
"""

from __future__ import annotations

import json
from collections.abc import Callable, Mapping
from contextlib import suppress
from pathlib import Path

from voicelog.config.grammar import Grammar, files_in_force, grammar_in_force, load_grammar
from voicelog.config.places import grammar_files
from voicelog.config.plain import from_plain, to_plain
from voicelog.config.settings import Settings
from voicelog.config.short_cut import cache_home, found, keep, name_of
from voicelog.config.toml_file import bounded

KEPT = 8
"""Grammars kept; the oldest go first."""


def cache_folder() -> Path:
    """Where they lie."""
    return cache_home() / "grammar"


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
    return from_plain(json.loads(found(cache_folder(), _name(files))), files)


def _keep(grammar: Grammar) -> None:
    """Keep it, named after the bytes that were checked.

    Raises:
        OSError: the folder or the disk refuses.
    """
    body = json.dumps(to_plain(grammar), separators=(",", ":")).encode()
    keep(cache_folder(), _name(grammar.files), body, KEPT)


def _name(files: Mapping[str, bytes]) -> str:
    """The name for these files and what checks them."""
    made_of = (part for name, raw in files.items() for part in (name.encode(), raw))
    return name_of(made_of, ("config", "domain"))
