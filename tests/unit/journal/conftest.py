"""A log to write to, and a voice to keep."""

from __future__ import annotations

import os
import stat
import struct
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

from voicelog.domain.sound import Clip
from voicelog.journal.journal import Journal

sys.path.insert(0, str(Path(__file__).parent))  # said_lines.py lies beside the tests

from said_lines import say

GRAMMAR = {"rules/frame.toml": b'id = "frame"\n', "words/places.toml": b"# places\n"}


@pytest.fixture
def journal(tmp_path: Path) -> Iterator[Journal]:
    """A log just opened."""
    opened = {"map": "ladder-frame", "rails": "mixed", "ear": "typed"}
    with Journal.create(tmp_path, subject="pickup", opened=opened, grammar=GRAMMAR) as log:
        yield log


@pytest.fixture
def clip() -> Clip:
    """A tenth of a second of a rising tone."""
    samples = [(n * n) % 20_001 - 10_000 for n in range(1600)]
    return Clip(struct.pack("<1600h", *samples), start_s=12.5, speech_end_s=12.55)


@pytest.fixture
def spoken(journal: Journal, clip: Clip) -> Journal:
    """A log with two utterances heard and one typed."""
    say(journal, clip)
    say(journal, clip)
    say(journal)
    return journal


@pytest.fixture
def nothing_left_open() -> Iterator[None]:
    """Whatever a test has opened is closed again, also where something was refused."""
    before = sorted(Path("/dev/fd").iterdir())
    yield
    assert sorted(Path("/dev/fd").iterdir()) == before


@pytest.fixture
def synced(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """What the disk is asked to keep, in order: a folder by the names in it, a file by its size."""
    seen: list[str] = []
    real = os.fsync

    def noting(handle: int) -> None:
        told = os.fstat(handle)
        listed = os.listdir(handle) if stat.S_ISDIR(told.st_mode) else None
        seen.append(f"{told.st_size} bytes" if listed is None else " ".join(sorted(listed)))
        real(handle)

    monkeypatch.setattr(os, "fsync", noting)
    return seen
