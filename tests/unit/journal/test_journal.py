"""Writing a log: made, added to, closed."""

from __future__ import annotations

import hashlib
import json
import os
import re
import stat
import time
import uuid
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import pytest

from voicelog import __version__
from voicelog.domain.sound import Clip
from voicelog.errors import InputFault, LogFault, StorageFault
from voicelog.journal import clock
from voicelog.journal.journal import Journal
from voicelog.journal.reading import read_log
from voicelog.journal.seal import seal_of


def _lines(journal: Journal) -> list[bytes]:
    return (journal.folder / "journal.jsonl").read_bytes().split(b"\n")[:-1]


def _create(parent: Path, **given: Any) -> Journal:
    return Journal.create(parent, **({"opened": {}, "grammar": {}} | given))


def test_the_first_fact_says_how_the_log_began(journal: Journal) -> None:
    """What the caller says, what the journal knows, and the hashes of the grammar."""
    [fact] = read_log(journal.folder).facts
    body = dict(fact.body)
    assert (fact.seq, fact.type, fact.prev) == (1, "opened", "0" * 64)
    assert uuid.UUID(body.pop("log_id")).version == 4
    created = datetime.fromisoformat(body.pop("created"))
    assert abs((datetime.now(UTC) - created).total_seconds()) < 60
    assert body.pop("utc_offset_min") * 60 == created.utcoffset().total_seconds()  # type: ignore[union-attr]
    assert body == {
        "program": f"voicelog {__version__}",
        "format": 1,
        "subject": "pickup",
        "map": "ladder-frame",
        "rails": "mixed",
        "ear": "typed",
        "grammar": {
            "rules/frame.toml": hashlib.sha256(b'id = "frame"\n').hexdigest(),
            "words/places.toml": hashlib.sha256(b"# places\n").hexdigest(),
        },
    }


def test_the_local_offset_is_kept(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Half hours and zones west of Greenwich too."""
    monkeypatch.setattr(clock, "utc_now", lambda: datetime(2026, 3, 14, 9, tzinfo=UTC))
    for zone, minutes, created in (
        ("XXX-05:30", 330, "2026-03-14T14:30:00.000+05:30"),
        ("XXX+03:30", -210, "2026-03-14T05:30:00.000-03:30"),
    ):
        monkeypatch.setenv("TZ", zone)
        time.tzset()
        with _create(tmp_path) as journal:
            [fact] = read_log(journal.folder).facts
        assert (fact.body["utc_offset_min"], fact.body["created"]) == (minutes, created)
    monkeypatch.undo()
    time.tzset()


def test_what_the_journal_knows_itself_cannot_be_told_otherwise(tmp_path: Path) -> None:
    """A caller's log id or hashes do not replace the true ones."""
    opened = {"log_id": "mine", "grammar": {}, "created": "never", "program": "other"}
    with _create(tmp_path, opened=opened, grammar={"a.toml": b""}) as journal:
        [fact] = read_log(journal.folder).facts
    assert fact.body["log_id"] != "mine"
    assert list(fact.body["grammar"]) == ["a.toml"]


def test_logs_of_the_same_second_get_a_number(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """None takes another's folder."""
    monkeypatch.setattr(clock, "utc_now", lambda: datetime(2026, 3, 14, 9, 5, 7, tzinfo=UTC))
    names = []
    for _ in range(3):
        with _create(tmp_path, subject="../Tray back") as journal:
            names.append(journal.folder.relative_to(tmp_path).as_posix())
    first = "20260314T090507Z-tray-back"
    assert names == [first, f"{first}-2", f"{first}-3"]


def test_a_log_is_private(tmp_path: Path) -> None:
    """Folders 0700, files 0600, and a parent that had to be made is private too."""
    with _create(tmp_path / "a" / "b", grammar={"words/w.toml": b""}) as journal:
        inside = list(journal.folder.rglob("*"))
        folders = [tmp_path / "a" / "b", journal.folder, *(p for p in inside if p.is_dir())]
        files = [path for path in inside if path.is_file()]
        assert sorted(path.name for path in files) == ["journal.jsonl", "lock", "w.toml"]
        assert {stat.S_IMODE(path.stat().st_mode) for path in folders} == {0o700}
        assert {stat.S_IMODE(path.stat().st_mode) for path in files} == {0o600}


def test_a_file_in_the_place_of_the_parent_is_told(tmp_path: Path) -> None:
    """With the option that changes it."""
    (tmp_path / "file").touch()
    for parent in (tmp_path / "file", tmp_path / "file" / "below"):
        with pytest.raises(StorageFault, match=r"new log could not be written.*--into"):
            _create(parent)


def test_a_log_that_could_not_begin_leaves_nothing(tmp_path: Path) -> None:
    """Neither a folder nor a lock, whatever was wrong."""
    with pytest.raises(TypeError):
        _create(tmp_path, opened={"rails": {"a set"}}, grammar={"a.toml": b""})
    with pytest.raises(InputFault):
        _create(tmp_path, grammar={"../a.toml": b""})
    assert list(tmp_path.iterdir()) == []


def test_a_folder_that_stays_does_not_hide_why_the_log_could_not_begin(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Taking it away again may be refused as well; the first refusal is the one to be told."""

    def refuse(*_given: object, **_named: object) -> None:
        raise PermissionError("the folder stays")

    monkeypatch.setattr(os, "rmdir", refuse)
    with pytest.raises(TypeError, match="set"):
        _create(tmp_path, opened={"rails": {"a set"}})


def test_facts_come_back_as_they_were_returned(journal: Journal) -> None:
    """What append returns is what a reader sees: tuples are lists, keys are strings."""
    said = journal.append("utterance", {"utterance": "u2", "pair": (1, 2.5), "by": {1: None}})
    assert said.body == {"utterance": "u2", "pair": [1, 2.5], "by": {"1": None}}
    assert read_log(journal.folder).facts[1] == said


def test_lines_are_numbered_timed_and_chained(journal: Journal) -> None:
    """Every line carries the hash of the bytes before it."""
    for n in range(2, 6):
        assert journal.next_seq == n
        journal.append("utterance", {"utterance": f"u{n}"})
    lines = _lines(journal)
    for n, line in enumerate(lines, start=1):
        document = json.loads(line)
        before = hashlib.sha256(lines[n - 2]).hexdigest() if n > 1 else "0" * 64
        assert (document["seq"], document["prev"], document["v"]) == (n, before, 1)
        assert re.fullmatch(r"\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d\.\d{3}Z", document["at"])
    offsets = [json.loads(line)["offset_s"] for line in lines]
    assert offsets == sorted(offsets)


def test_a_body_that_cannot_be_kept_changes_nothing(journal: Journal) -> None:
    """Neither the file nor the next number; the next fact is written as if nothing had been."""
    before = _lines(journal)
    deep: list[Any] = []
    for _ in range(200_000):
        deep = [deep]
    for body in ({"seq": 9}, {"score": float("nan")}, {"words": b"bytes"}):
        with pytest.raises((TypeError, ValueError)):
            journal.append("utterance", body)
    with pytest.raises((RecursionError, LogFault)):
        journal.append("utterance", {"deep": deep})
    with pytest.raises(LogFault, match="'type'"):
        journal.append("", {})
    assert (_lines(journal), journal.next_seq) == (before, 2)
    assert journal.append("utterance", {"utterance": "u2"}).seq == 2


def test_a_line_is_on_disk_before_append_returns(
    journal: Journal, monkeypatch: pytest.MonkeyPatch
) -> None:
    """One write of the whole line, then the sync of that file, in this order."""
    calls: list[tuple[str, int]] = []
    write, fsync = os.write, os.fsync

    def noted_write(handle: int, data: bytes) -> int:
        calls.append(("write", handle))
        return write(handle, data)

    def noted_fsync(handle: int) -> None:
        calls.append(("fsync", handle))
        fsync(handle)

    monkeypatch.setattr(os, "write", noted_write)
    monkeypatch.setattr(os, "fsync", noted_fsync)
    journal.append("utterance", {"utterance": "u2", "text": "x" * 50_000})
    assert [name for name, _ in calls] == ["write", "fsync"]
    assert len({handle for _, handle in calls}) == 1


def test_a_clip_belongs_to_an_utterance_to_come(journal: Journal, clip: Clip) -> None:
    """The sound of one that has its fact is never replaced."""
    kept = journal.keep_clip("u2", clip)
    journal.append("utterance", {"utterance": "u2", "clip": kept})
    journal.keep_clip("u4", clip)
    for utterance in ("u2", "u1", "u0", "../u9", ""):
        with pytest.raises(ValueError, match="not an utterance to come"):
            journal.keep_clip(utterance, clip)


def test_what_is_sealed_is_every_whole_line(journal: Journal) -> None:
    """As it lies in the file; what another program may be adding behind is none of it."""
    journal.append("gap", {})
    with (journal.folder / "journal.jsonl").open("ab") as file:
        file.write(b'{"seq":3,')
    seal = seal_of(journal.folder)
    assert journal.sealed() == (seal.lines, seal.sha256) == (2, seal.sha256)


def test_a_closed_journal_is_not_written_to(journal: Journal) -> None:
    """Closing twice is harmless."""
    journal.close()
    journal.close()
    with pytest.raises(ValueError, match="closed"):
        journal.append("gap", {})
