"""A disk that is full, failing or read-only: told, nothing acknowledged lost, and on it goes."""

from __future__ import annotations

import errno
from itertools import count
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from voicelog.domain.sound import Clip
from voicelog.errors import StorageFault
from voicelog.journal.journal import Journal
from voicelog.journal.reading import read_log, verify

if TYPE_CHECKING:
    from disk_calls import Disk

CODES = [errno.ENOSPC, errno.EIO, errno.EROFS, errno.EDQUOT]


def _text(journal: Journal) -> bytes:
    return (journal.folder / "journal.jsonl").read_bytes()


@pytest.mark.parametrize("code", CODES)
@pytest.mark.parametrize(("call", "half"), [("write", False), ("write", True), ("fsync", False)])
def test_a_refused_fact_leaves_whole_lines_and_can_be_tried_again(
    journal: Journal, disk: Disk, code: int, call: str, half: bool
) -> None:
    """Refused outright, half written, or written and not synced: the same for the next one."""
    before = _text(journal)
    disk.code, disk.half = code, half
    disk.refuse_all(call)
    for _ in range(3):
        with pytest.raises(StorageFault, match=r"The journal could not be written") as caught:
            journal.append("utterance", {"utterance": "u3"})
        assert caught.value.hint
        assert (_text(journal), journal.next_seq) == (before, 3)
    disk.recover()
    journal.append("utterance", {"utterance": "u3"})
    assert [fact.seq for fact in read_log(journal.folder).facts] == [1, 2, 3]
    assert verify(journal.folder).ok


def test_half_a_line_that_cannot_be_cut_off_is_cut_off_later(journal: Journal, disk: Disk) -> None:
    """A reader sees it as torn meanwhile; no line is ever glued to it."""
    disk.half = True
    disk.refuse_all("write", "ftruncate")
    with pytest.raises(StorageFault):
        journal.append("utterance", {"utterance": "u3"})
    assert read_log(journal.folder).torn.startswith("Line 3 is torn after")
    with pytest.raises(StorageFault):
        journal.append("utterance", {"utterance": "u3"})
    disk.recover()
    journal.append("utterance", {"utterance": "u3"})
    assert read_log(journal.folder).torn == ""
    assert verify(journal.folder).ok


def test_half_a_line_left_by_a_dead_program_is_set_aside(journal: Journal, disk: Disk) -> None:
    """The disk never recovered while the program ran."""
    disk.half = True
    disk.refuse_all("write", "ftruncate")
    with pytest.raises(StorageFault):
        journal.append("utterance", {"utterance": "u3"})
    journal.close()
    disk.recover()
    with Journal.reopen(journal.folder) as again:
        assert "set aside in journal.torn-1" in again.torn
        again.append("utterance", {"utterance": "u3"})
    assert verify(journal.folder).ok


def test_setting_aside_loses_nothing_wherever_the_disk_refuses(
    journal: Journal, disk: Disk
) -> None:
    """At every call in turn: the torn bytes are in the journal or beside it, and at last aside."""
    journal.close()
    torn = b'{"seq":3,"at'
    with (journal.folder / "journal.jsonl").open("ab") as file:
        file.write(torn)
    for n in count():
        disk.refuse_nth(n)
        try:
            Journal.reopen(journal.folder).close()
        except StorageFault:
            aside = [path.read_bytes() for path in journal.folder.glob("journal.torn-*")]
            assert _text(journal).endswith(torn) or torn in aside
            continue
        break
    assert n >= 3
    assert torn in [path.read_bytes() for path in journal.folder.glob("journal.torn-*")]
    assert verify(journal.folder).ok


@pytest.mark.parametrize("call", ["write", "fsync", "mkdir", "replace"])
def test_refused_sound_leaves_no_draft_and_can_be_tried_again(
    journal: Journal, disk: Disk, clip: Clip, call: str
) -> None:
    """The room a draft took is given back at once."""
    disk.half = True
    disk.refuse_all(call)
    for _ in range(2):
        with pytest.raises(StorageFault, match=r"The sound of u3 could not be written"):
            journal.keep_clip("u3", clip)
    assert list(journal.folder.rglob("*.part")) == []
    disk.recover()
    kept = journal.keep_clip("u3", clip)
    journal.append("utterance", {"utterance": "u3", "clip": kept})
    assert verify(journal.folder).clips == 1


def test_a_refused_fact_keeps_its_sound(journal: Journal, disk: Disk, clip: Clip) -> None:
    """The clip stays, the same call again gives the same clip, and the log is whole."""
    first = journal.keep_clip("u3", clip)
    disk.refuse_all("write")
    with pytest.raises(StorageFault):
        journal.append("utterance", {"utterance": "u3", "clip": first})
    disk.recover()
    assert journal.keep_clip("u3", clip) == first
    journal.append("utterance", {"utterance": "u3", "clip": first})
    report = verify(journal.folder)
    assert (report.clips, report.problems, report.notices) == (1, (), ())


def test_a_log_that_cannot_begin_leaves_nothing(tmp_path: Path, disk: Disk) -> None:
    """At every call in turn the disk refuses: no folder stays, and the fault is told."""
    parent = tmp_path / "logs"
    parent.mkdir()
    for n in count():
        disk.refuse_nth(n)
        try:
            Journal.create(parent, opened={}, grammar={"words/w.toml": b"w"}).close()
        except StorageFault:
            assert list(parent.iterdir()) == []
            continue
        break
    assert n >= 8
    [folder] = parent.iterdir()
    assert verify(folder).ok
