"""A log to write to, a voice to keep, and a disk that can refuse."""

from __future__ import annotations

import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parents[1]))

from disk_calls import Disk

from voicelog.domain.sound import Clip
from voicelog.journal.journal import Journal


@pytest.fixture
def disk() -> Iterator[Disk]:
    """A disk that refuses nothing until it is told to."""
    disk = Disk()
    with disk.between:
        yield disk


@pytest.fixture
def journal(tmp_path: Path) -> Iterator[Journal]:
    """A log of two facts."""
    with Journal.create(tmp_path, opened={}, grammar={"words/w.toml": b"w"}) as log:
        log.append("utterance", {"utterance": "u2", "text": "surface rust"})
        yield log


@pytest.fixture
def clip() -> Clip:
    """A quarter of a second of sound."""
    return Clip(bytes(range(250)) * 32, start_s=1.0, speech_end_s=1.2)
