"""A log's own grammar is read thousands of times here: the same bytes are checked once."""

from __future__ import annotations

import hashlib
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest

from voicelog.config.grammar import Grammar, load_grammar


@contextmanager
def checked_once() -> Iterator[None]:
    """What opens and recovers a log remembers the grammars that it has checked, by their bytes."""
    known: dict[tuple[str, str], Grammar] = {}

    def load(map_id: str, *, folder: Path) -> Grammar:
        files = sorted(path for path in folder.rglob("*.toml") if path.is_file())
        told = b"".join(str(p.relative_to(folder)).encode() + p.read_bytes() for p in files)
        key = map_id, hashlib.sha256(told).hexdigest()
        if key not in known:
            known[key] = load_grammar(map_id, folder=folder)
        return known[key]

    with pytest.MonkeyPatch.context() as patch:
        for room in ("logs", "recovering"):
            patch.setattr(
                f"voicelog.runtime.{room}.checked_folder",
                lambda map_id, folder: load(map_id, folder=folder),
            )
        yield
