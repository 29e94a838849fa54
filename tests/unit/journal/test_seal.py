"""What a signature covers: the bytes of the lines before it."""

from __future__ import annotations

import hashlib

from voicelog.journal.journal import Journal
from voicelog.journal.seal import Seal, seal_of


def test_the_seal_is_that_of_the_file(journal: Journal) -> None:
    """Line feeds included, so that any tool can work it out."""
    journal.append("note", {"text": "ü"})
    whole = (journal.folder / "journal.jsonl").read_bytes()
    assert seal_of(journal.folder) == Seal(2, hashlib.sha256(whole).hexdigest())


def test_a_torn_line_is_not_sealed(journal: Journal) -> None:
    """It was never acknowledged, and is set aside before anything is written."""
    before = seal_of(journal.folder)
    with (journal.folder / "journal.jsonl").open("ab") as file:
        file.write(b'{"seq"')
    assert seal_of(journal.folder) == before
