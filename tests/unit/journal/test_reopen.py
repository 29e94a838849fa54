"""Going on with a log that was closed, or whose program died."""

from __future__ import annotations

import os
import stat
import time
from datetime import UTC, datetime
from pathlib import Path

import pytest

from voicelog.errors import InputFault, LogFault
from voicelog.journal import clock
from voicelog.journal.journal import Journal
from voicelog.journal.reading import verify


def _lines(journal: Journal) -> list[bytes]:
    return (journal.folder / "journal.jsonl").read_bytes().split(b"\n")[:-1]


def test_a_log_opened_again_goes_on(journal: Journal) -> None:
    """Number, chain and seconds continue; facts before are untouched."""
    journal.append("utterance", {"utterance": "u2"})
    journal.close()
    before = _lines(journal)
    with Journal.reopen(journal.folder) as again:
        assert (again.next_seq, again.torn) == (3, "")
        again.append("utterance", {"utterance": "u3"})
    assert _lines(journal)[:2] == before
    assert verify(journal.folder).problems == ()


def test_seconds_never_fall_when_the_clock_was_set_back(
    journal: Journal, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The wall clock may say anything; ``offset_s`` only grows."""
    monkeypatch.setattr(time, "monotonic", lambda: 1e9)
    late = journal.append("gap", {})
    journal.close()
    monkeypatch.setattr(time, "monotonic", lambda: 3.0)
    monkeypatch.setattr(clock, "utc_now", lambda: datetime(2001, 1, 1, tzinfo=UTC))
    with Journal.reopen(journal.folder) as again:
        after = again.append("gap", {})
        monkeypatch.setattr(time, "monotonic", lambda: 2.0)
        last = again.append("gap", {})
    assert after.at == "2001-01-01T00:00:00.000Z"
    assert late.offset_s <= after.offset_s <= last.offset_s
    assert verify(journal.folder).ok


def test_a_torn_line_is_set_aside_when_opened_again(journal: Journal) -> None:
    """Its bytes are kept, its place is told, and the log is whole again; twice in a row too."""
    journal.close()
    path = journal.folder / "journal.jsonl"
    for n, torn in enumerate([b'{"seq":2,"at":"20', b"\x00\x00\x00"], start=1):
        with path.open("ab") as file:
            file.write(torn)
        with Journal.reopen(journal.folder) as again:
            assert again.torn == (
                f"Line {n + 1} is torn after {len(torn)} bytes and was never acknowledged;"
                f" it was set aside in journal.torn-{n}"
            )
            again.append("gap", {})
        kept = journal.folder / f"journal.torn-{n}"
        assert kept.read_bytes() == torn
        assert stat.S_IMODE(kept.stat().st_mode) == 0o600
    assert verify(journal.folder).ok
    assert len(_lines(journal)) == 3


def test_a_damaged_log_is_not_opened_again(journal: Journal) -> None:
    """Nothing is written to it, not even with a torn line to set aside."""
    journal.append("gap", {})
    journal.close()
    path = journal.folder / "journal.jsonl"
    damaged = path.read_bytes().replace(b'"gap"', b'"gop"', 1).replace(b"pickup", b"pickap") + b"{"
    path.write_bytes(damaged)
    with pytest.raises(LogFault, match=r"Line 2 .*the line before it"):
        Journal.reopen(journal.folder)
    assert path.read_bytes() == damaged
    assert list(journal.folder.glob("journal.torn-*")) == []


@pytest.mark.parametrize("text", [b"", b'{"seq":1'])
def test_a_log_that_never_began_cannot_go_on(journal: Journal, text: bytes) -> None:
    """The program stopped before the first line was whole."""
    journal.close()
    (journal.folder / "journal.jsonl").write_bytes(text)
    with pytest.raises(LogFault, match=r"Line 1 .*never finished.*Start a new log"):
        Journal.reopen(journal.folder)


def test_what_is_no_log_gets_no_lock(tmp_path: Path) -> None:
    """A mistyped folder stays as it was."""
    with pytest.raises(InputFault, match="no log at"):
        Journal.reopen(tmp_path)
    assert list(tmp_path.iterdir()) == []


def test_what_was_set_aside_is_gone_from_the_journal_at_once(journal: Journal) -> None:
    """Although nothing more is said: the next one who opens it finds whole lines."""
    path = journal.folder / "journal.jsonl"
    whole = path.read_bytes()
    journal.close()
    path.write_bytes(whole + b'{"seq":3,')
    Journal.reopen(journal.folder).close()
    assert path.read_bytes() == whole
    assert [kept.read_bytes() for kept in journal.folder.glob("journal.torn-*")] == [b'{"seq":3,']


def test_the_last_line_is_written_once_more_when_opened_again(
    journal: Journal, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Whoever wrote it may have died before the disk had it, and what builds on it needs it there."""
    journal.append("gap", {"lost_s": 1})
    journal.close()
    whole, real, wrote = _lines(journal), os.write, list[bytes]()

    def noting(handle: int, data: bytes) -> int:
        wrote.append(bytes(data))
        return real(handle, data)

    monkeypatch.setattr(os, "write", noting)
    Journal.reopen(journal.folder).close()
    assert whole[-1] + b"\n" in wrote
    assert _lines(journal) == whole
