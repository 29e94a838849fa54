"""One log, written once, that every example may damage in its own way."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

import pytest

from voicelog.domain.fact import Fact
from voicelog.journal.journal import Journal
from voicelog.journal.reading import read_log, verify


@dataclass(frozen=True, slots=True)
class Written:
    """A log on disk and what is in it.

    Args:
        folder: the log's.
        lines: its journal's lines, newlines included.
        facts: what they say.
    """

    folder: Path
    lines: tuple[bytes, ...]
    facts: tuple[Fact, ...]

    @property
    def text(self) -> bytes:
        """The whole journal."""
        return b"".join(self.lines)

    @property
    def last(self) -> int:
        """The place of the last line's first byte."""
        return len(self.text) - len(self.lines[-1])

    def put(self, text: bytes) -> None:
        """Puts another journal in its place."""
        (self.folder / "journal.jsonl").write_bytes(text)


@pytest.fixture(scope="module")
def written(tmp_path_factory: pytest.TempPathFactory) -> Written:
    """A log of six facts."""
    parent = tmp_path_factory.mktemp("logs")
    with Journal.create(parent, opened={"map": "ladder-frame"}, grammar={}) as journal:
        for n in range(2, 6):
            journal.append("utterance", {"utterance": f"u{n}", "size_mm": n * 2.5, "text": "ü\n"})
        journal.append("closed", {})
    lines = tuple((journal.folder / "journal.jsonl").read_bytes().splitlines(keepends=True))
    assert verify(journal.folder).ok
    return Written(journal.folder, lines, read_log(journal.folder).facts)
