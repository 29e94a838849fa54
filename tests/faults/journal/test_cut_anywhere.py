"""A journal cut after any byte, as a lost power supply may leave it."""

from __future__ import annotations

import pytest

from voicelog.errors import LogFault
from voicelog.journal.journal import Journal
from voicelog.journal.reading import read_log, verify


def test_every_cut_reads_as_the_whole_lines_before_it(journal: Journal) -> None:
    """What lies after them is torn, and told; a cut at a line's end is a shorter log."""
    path = journal.folder / "journal.jsonl"
    text = path.read_bytes()
    facts = read_log(journal.folder).facts
    first = text.index(b"\n") + 1
    for cut in range(len(text)):
        path.write_bytes(text[:cut])
        if cut < first:
            with pytest.raises(LogFault, match="Line 1"):
                read_log(journal.folder)
            continue
        log = read_log(journal.folder)
        assert log.facts == facts[: text[:cut].count(b"\n")]
        assert bool(log.torn) == (cut > first)


def test_after_every_cut_of_the_last_line_the_log_goes_on(journal: Journal) -> None:
    """The torn bytes are kept beside it, and the next fact takes the torn one's number."""
    journal.close()
    path = journal.folder / "journal.jsonl"
    text = path.read_bytes()
    first = text.index(b"\n") + 1
    for cut in range(first, len(text), 7):
        path.write_bytes(text[:cut])
        with Journal.reopen(journal.folder) as again:
            assert again.append("gap", {}).seq == 2
        assert path.read_bytes()[:first] == text[:first]
        assert verify(journal.folder).ok
    kept = sorted(aside.read_bytes() for aside in journal.folder.glob("journal.torn-*"))
    assert kept == sorted(text[first:cut] for cut in range(first + 7, len(text), 7))
