"""One writer at a time, whoever it is."""

from __future__ import annotations

import errno
import fcntl
import hashlib
import os
import subprocess
import sys
import threading
from pathlib import Path

import pytest

from voicelog.errors import LockedFault, LogFault
from voicelog.journal.journal import Journal
from voicelog.journal.lock import WITHOUT_LOCKS, is_locked, stand_in, take_lock
from voicelog.journal.reading import read_log

REOPEN = """
import sys
from pathlib import Path
from voicelog.errors import VoicelogError
from voicelog.journal.journal import Journal
try:
    with Journal.reopen(Path(sys.argv[1])) as journal:
        print("next", journal.next_seq)
except VoicelogError as fault:
    print(fault)
    sys.exit(fault.exit_code)
"""


def _reopen_elsewhere(folder: Path) -> subprocess.CompletedProcess[str]:
    command = [sys.executable, "-c", REOPEN, str(folder)]
    return subprocess.run(command, capture_output=True, text=True, timeout=60, check=False)


def test_a_second_program_is_refused_until_the_first_is_done(journal: Journal) -> None:
    """At once, with exit code 8; afterwards it may."""
    refused = _reopen_elsewhere(journal.folder)
    assert refused.returncode == 8, refused.stderr
    assert f"The log {journal.folder.name} is being written" in refused.stdout
    journal.close()
    assert _reopen_elsewhere(journal.folder).stdout == "next 2\n"


def test_a_second_writer_of_the_same_program_is_refused(journal: Journal) -> None:
    """And leaves the first one its lock."""
    for _ in range(2):
        with pytest.raises(LockedFault, match=r"Close it there first"):
            Journal.reopen(journal.folder)
    journal.append("gap", {})


def test_reading_needs_no_lock(journal: Journal) -> None:
    """A log can be looked at while it is spoken."""
    assert len(read_log(journal.folder).facts) == 1


def test_any_thread_can_close_the_journal(journal: Journal) -> None:
    """The worker closes what the main thread opened."""
    worker = threading.Thread(target=journal.close)
    worker.start()
    worker.join()
    Journal.reopen(journal.folder).close()


def test_a_log_that_could_not_be_reopened_is_free_again(journal: Journal) -> None:
    """Damage found while holding the lock does not keep it."""
    journal.close()
    path = journal.folder / "journal.jsonl"
    whole = path.read_bytes()
    path.write_bytes(b"{}\n")
    with pytest.raises(LogFault, match="damaged"):
        Journal.reopen(journal.folder)
    path.write_bytes(whole)
    Journal.reopen(journal.folder).close()


@pytest.mark.parametrize("code", [errno.ENOSYS, errno.ENOLCK, errno.EOPNOTSUPP])
def test_a_file_system_without_locks_is_stood_in_for(
    journal: Journal, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, code: int
) -> None:
    """A second writer here is refused all the same, and whoever opens the log is told what is not
    noticed; afterwards it is free.
    """
    journal.close()
    real, own = fcntl.flock, journal.folder / "lock"

    def flock(handle: int, how: int) -> None:
        if os.path.samestat(own.stat(), os.fstat(handle)):
            raise OSError(code, os.strerror(code))
        real(handle, how)

    monkeypatch.setenv("XDG_RUNTIME_DIR", str(tmp_path))
    monkeypatch.setattr(fcntl, "flock", flock)
    with Journal.reopen(journal.folder) as held:
        assert "without locks" in held.told[0]
        assert is_locked(journal.folder)
        with pytest.raises(LockedFault):
            Journal.reopen(journal.folder)
    assert not is_locked(journal.folder)
    Journal.reopen(journal.folder).close()


def test_where_there_are_locks_nothing_is_told(journal: Journal) -> None:
    """And no lock lies outside the log."""
    assert journal.told == ()
    assert not stand_in(journal.folder).exists()


def test_whoever_begins_a_log_without_locks_is_told(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """As whoever goes on with one; until somebody does, nobody is writing it."""
    real = fcntl.flock

    def flock(handle: int, how: int) -> None:
        own = (path.stat() for path in tmp_path.glob("*/lock"))
        if any(os.path.samestat(lock, os.fstat(handle)) for lock in own):
            raise OSError(errno.ENOLCK, os.strerror(errno.ENOLCK))
        real(handle, how)

    monkeypatch.setenv("XDG_RUNTIME_DIR", str(tmp_path))
    monkeypatch.setattr(fcntl, "flock", flock)
    with Journal.create(tmp_path, opened={}, grammar={}) as journal:
        assert journal.told == (WITHOUT_LOCKS,)
    stand_in(journal.folder).unlink()
    assert not is_locked(journal.folder)


def test_a_log_that_nobody_ever_wrote_to_is_not_locked(tmp_path: Path) -> None:
    """A copy of one may have no lock file."""
    assert not is_locked(tmp_path)


@pytest.mark.usefixtures("nothing_left_open")
def test_a_link_is_no_lock(journal: Journal, tmp_path: Path) -> None:
    """Whoever holds what it leads to writes another log."""
    (tmp_path / "copy").mkdir()
    (tmp_path / "copy" / "lock").symlink_to(journal.folder / "lock")
    assert is_locked(journal.folder)
    assert not is_locked(tmp_path / "copy")


@pytest.mark.usefixtures("nothing_left_open")
def test_a_lock_that_is_refused_stays_closed(journal: Journal) -> None:
    """Whoever asks every second for a whole day has no thousand files open."""
    with pytest.raises(LockedFault):
        take_lock(journal.folder)


def test_the_stand_in_of_a_lock_is_named_after_user_and_folder(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Programs of all versions have to find the same one, and two users two."""
    monkeypatch.setattr(os, "getuid", lambda: 4711)
    monkeypatch.setenv("XDG_RUNTIME_DIR", "/run/of-somebody")
    folder = hashlib.sha256(os.fsencode(tmp_path.resolve())).hexdigest()[:32]
    assert stand_in(tmp_path) == Path(f"/run/of-somebody/voicelog-4711-{folder}.lock")
