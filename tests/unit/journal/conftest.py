"""A log to write to, and a voice to keep."""

from __future__ import annotations

import struct
from collections.abc import Iterator
from pathlib import Path

import pytest

from voicelog.domain.sound import Clip
from voicelog.journal.journal import Journal

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
