"""Bytes to disk."""

from __future__ import annotations

import errno
import os
import stat
import subprocess
import sys
from collections.abc import Callable
from contextlib import nullcontext
from pathlib import Path

import pytest

from voicelog.errors import InputFault, StorageFault
from voicelog.journal.storage import (
    have_folder,
    make_folder,
    reading,
    storing,
    sync_folder,
    write_all,
    write_file,
)


@pytest.mark.parametrize(
    ("code", "step"),
    [
        (errno.ENOSPC, "Free some space"),
        (errno.EDQUOT, "quota"),
        (errno.EROFS, "--into"),
        (errno.EACCES, "--into"),
        (errno.EPERM, "--into"),
        (errno.ENOTDIR, "--into"),
        (errno.EEXIST, "--into"),
        (errno.EIO, "Check the disk"),
    ],
)
def test_a_refusal_says_what_why_and_what_next(code: int, step: str) -> None:
    """What could not be written, the system's reason, the next step, exit code 7."""
    with pytest.raises(StorageFault) as caught, storing("The journal"):
        raise OSError(code, os.strerror(code))
    assert caught.value.message == f"The journal could not be written ({os.strerror(code)})"
    assert step in caught.value.hint
    assert caught.value.exit_code == 7


def test_a_refusal_without_a_reason_still_has_a_sentence() -> None:
    """Some libraries raise OSError with nothing in it."""
    with pytest.raises(StorageFault, match=r"\(OSError\)"), storing("The journal"):
        raise OSError
    with pytest.raises(InputFault, match=r"\(OSError\)"), reading(Path("log")):
        raise OSError


def test_other_faults_pass_through() -> None:
    """Only the disk's refusals are translated."""
    with pytest.raises(KeyError), storing("The journal"):
        raise KeyError


def test_a_folder_is_private_and_new(tmp_path: Path) -> None:
    """One that is there already is an error, never taken over."""
    make_folder(tmp_path / "log")
    assert stat.S_IMODE((tmp_path / "log").stat().st_mode) == 0o700
    with pytest.raises(FileExistsError):
        make_folder(tmp_path / "log")


def test_a_folder_that_would_not_stay_is_not_there(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Made, but its name could not be synced: the next try finds its place free."""

    def refuse(_: int) -> None:
        raise OSError(errno.EIO, os.strerror(errno.EIO))

    with monkeypatch.context() as failing:
        failing.setattr(os, "fsync", refuse)
        with pytest.raises(OSError, match="Input/output"):
            make_folder(tmp_path / "log")
    assert list(tmp_path.iterdir()) == []
    make_folder(tmp_path / "log")


def test_an_empty_folder_is_made_anew(tmp_path: Path) -> None:
    """Whoever made it may have been killed before the disk had its name; then it is private, too."""
    (tmp_path / "clips").mkdir(mode=0o755)
    have_folder(tmp_path / "clips")
    assert stat.S_IMODE((tmp_path / "clips").stat().st_mode) == 0o700


def test_a_link_is_no_folder_of_the_log(tmp_path: Path) -> None:
    """What is kept there would lie in somebody else's; a folder of its own is taken as it is."""
    have_folder(tmp_path / "own")
    (tmp_path / "own" / "kept").touch()
    have_folder(tmp_path / "own")
    (tmp_path / "link").symlink_to(tmp_path / "own")
    with pytest.raises(NotADirectoryError, match="link to another folder"):
        have_folder(tmp_path / "link")


def test_systems_that_open_no_folders_are_fine(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """As on Windows; no sync is asked for then."""

    def refuse(*_: object) -> int:
        raise PermissionError(errno.EACCES, "no folders here")

    monkeypatch.setattr(os, "open", refuse)
    monkeypatch.setattr(os, "fsync", lambda _: pytest.fail("nothing was opened"))
    sync_folder(tmp_path)


def test_systems_that_sync_no_folders_are_fine(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """As on some network file systems; a failing disk is not forgiven."""
    codes = iter([errno.EINVAL, errno.EIO])

    def refuse(handle: int) -> None:
        code = next(codes)
        raise OSError(code, os.strerror(code))

    monkeypatch.setattr(os, "fsync", refuse)
    sync_folder(tmp_path)
    with pytest.raises(OSError, match="Input/output"):
        sync_folder(tmp_path)


def test_a_part_taken_is_followed_by_the_rest(monkeypatch: pytest.MonkeyPatch) -> None:
    """The system may take fewer bytes than it was given."""
    taken: list[bytes] = []

    def take_three(handle: int, data: memoryview) -> int:
        taken.append(bytes(data[:3]))
        return len(taken[-1])

    monkeypatch.setattr(os, "write", take_three)
    write_all(99, b"seven b")
    assert taken == [b"sev", b"en ", b"b"]


def test_a_file_replaces_another_at_once(tmp_path: Path) -> None:
    """And a draft left by a crash is no obstacle."""
    (tmp_path / "a").write_bytes(b"old")
    (tmp_path / "a.part").write_bytes(b"half of something longer")
    write_file(tmp_path / "a", b"new")
    assert {path.name: path.read_bytes() for path in tmp_path.iterdir()} == {"a": b"new"}


def test_a_link_put_in_the_place_of_a_draft_is_not_written_through(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Not even one that is there again as soon as it was taken away."""
    (tmp_path / "somebody's").write_bytes(b"theirs")
    (tmp_path / "a.part").symlink_to(tmp_path / "somebody's")
    with monkeypatch.context() as put_back:
        put_back.setattr(Path, "unlink", lambda *_given, **_named: None)
        with pytest.raises(FileExistsError):
            write_file(tmp_path / "a", b"new")
    assert (tmp_path / "somebody's").read_bytes() == b"theirs"


def test_a_file_is_on_disk_before_it_has_its_name(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Contents, then the name, then the folder that holds it: no crash leaves an empty file."""
    calls: list[str] = []

    def noting(name: str, call: Callable[..., object]) -> Callable[..., object]:
        def noted(*given: object) -> object:
            calls.append(name)
            return call(*given)

        return noted

    for name in ("write", "fsync", "replace"):
        monkeypatch.setattr(os, name, noting(name, getattr(os, name)))
    write_file(tmp_path / "a", b"new")
    assert calls == ["write", "fsync", "replace", "fsync"]


def test_windows_is_asked_for_bytes_as_they_are() -> None:
    """There every file is opened with the system's flag for that, or LF would become CR LF."""
    code = "import os; os.O_BINARY = 0x8000; from voicelog.journal.storage import BINARY; print(BINARY)"
    told = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert int(told.stdout) == 0x8000


@pytest.mark.usefixtures("nothing_left_open")
@pytest.mark.parametrize("refused", [False, True])
def test_nothing_stays_open(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, refused: bool) -> None:
    """A day has thousands of files, and a program may have a thousand open."""

    def refuse(_: int) -> None:
        raise OSError(errno.EIO, os.strerror(errno.EIO))

    with monkeypatch.context() as failing:
        if refused:
            failing.setattr(os, "fsync", refuse)
        for deed in (lambda: write_file(tmp_path / "a", b"new"), lambda: sync_folder(tmp_path)):
            with pytest.raises(OSError, match="Input/output") if refused else nullcontext():
                deed()
