"""A log's own files, and no others: links, strange names and second names lead nowhere."""

from __future__ import annotations

import errno
import hashlib
import os
from pathlib import Path
from typing import cast

import pytest

from voicelog.journal import own_files as own_files_module
from voicelog.journal.own_files import (
    LONGEST,
    copy_file,
    erase_file,
    holds,
    is_own_folder,
    own_file,
    own_files,
    sha256_of,
)


@pytest.fixture
def clips(tmp_path: Path) -> Path:
    """A folder of clips with one in it, beside a secret."""
    (tmp_path / "secret").write_bytes(b"not yours")
    folder = tmp_path / "log" / "clips"
    folder.mkdir(parents=True)
    (folder / "u2.flac").write_bytes(b"sound")
    return folder


@pytest.mark.parametrize(
    "name",
    ["u2.flac", "clips/../clips/u2.flac", "clips//u2.flac", "/clips/u2.flac", "clips/u9.flac",
     "clips/u2.flac\x00", "clips/a/u2.flac", "clips\\u2.flac", "clips/.", "clips/", "",
     "photos/u2.flac", "clips/u2.flac/x", "clips/a:b.flac"],
)  # fmt: skip
def test_other_names_are_none(clips: Path, name: str) -> None:
    """Only what lies in that folder, under a plain name."""
    (clips / "a:b.flac").touch()
    assert own_file(clips.parent, "clips/u2.flac", "clips") == clips / "u2.flac"
    assert own_file(clips.parent, name, "clips") is None


def test_links_are_none_of_its_own(clips: Path, tmp_path: Path) -> None:
    """Neither a file that is one nor a folder."""
    (clips / "u3.flac").symlink_to(tmp_path / "secret")
    assert own_file(clips.parent, "clips/u3.flac", "clips") is None
    assert own_files(clips.parent, "clips") == [clips / "u2.flac"]
    with pytest.raises(OSError, match=r"."):
        sha256_of(clips / "u3.flac")
    with pytest.raises(OSError, match=r"."):
        copy_file(clips / "u3.flac", tmp_path / "copy")
    (tmp_path / "log" / "photos").symlink_to(clips)
    assert own_files(clips.parent, "photos") == []
    assert own_file(clips.parent, "photos/u2.flac", "photos") is None


def test_an_erased_file_is_overwritten_first(
    clips: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Where taking it away fails, its bytes are gone all the same."""
    monkeypatch.setattr(Path, "unlink", lambda *_: None)
    assert erase_file(clips / "u2.flac")
    assert (clips / "u2.flac").read_bytes() == bytes(5)


def test_a_file_with_a_second_name_keeps_its_bytes_there(clips: Path, tmp_path: Path) -> None:
    """Somebody may want it; and a link is taken away, never what it leads to."""
    os.link(clips / "u2.flac", tmp_path / "twin")
    (clips / "u3.flac").symlink_to(tmp_path / "secret")
    assert not erase_file(clips / "u2.flac")
    assert not erase_file(clips / "u3.flac")
    assert list(clips.iterdir()) == []
    assert (tmp_path / "twin").read_bytes() == b"sound"
    assert (tmp_path / "secret").read_bytes() == b"not yours"


def test_a_copy_is_private_and_replaces_nothing(clips: Path, tmp_path: Path) -> None:
    """As every file of a log."""
    copy_file(clips / "u2.flac", tmp_path / "copy")
    assert (tmp_path / "copy").read_bytes() == b"sound"
    assert (tmp_path / "copy").stat().st_mode & 0o777 == 0o600
    with pytest.raises(FileExistsError):
        copy_file(clips / "u2.flac", tmp_path / "secret")


@pytest.mark.parametrize("name", ["missing", "a\x00b", "u2.flac"])
def test_what_is_no_folder_is_none_of_its_own(clips: Path, name: str) -> None:
    """Whatever the system says when it is asked."""
    assert not is_own_folder(clips / name)
    assert own_files(clips, name) == []


def test_no_file_of_a_log_is_longer(clips: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Than 256 MiB: one that is has no hash, so that nobody waits for it."""
    sound = clips / "u2.flac"
    monkeypatch.setattr(own_files_module, "LONGEST", 5)
    assert sha256_of(sound) == hashlib.sha256(b"sound").hexdigest()
    monkeypatch.setattr(own_files_module, "LONGEST", 4)
    assert sha256_of(sound) == ""
    monkeypatch.undo()
    assert LONGEST == 2**28


def test_a_hash_is_of_all_of_a_file(clips: Path) -> None:
    """Which is read piece by piece."""
    long = bytes(range(256)) * 10_000
    (clips / "u3.flac").write_bytes(long)
    assert sha256_of(clips / "u3.flac") == hashlib.sha256(long).hexdigest()


def test_only_a_file_of_the_log_holds_just_these_bytes(clips: Path) -> None:
    """Neither other ones, nor more, nor a link to the same; nor what is not there."""
    (clips / "u3.flac").symlink_to(clips / "u2.flac")
    assert holds(clips / "u2.flac", b"sound")
    for name, data in (("u2", b"found"), ("u2", b"sounds"), ("u3", b"sound"), ("u4", b"")):
        assert not holds(clips / f"{name}.flac", data)


def test_a_copy_is_on_disk_when_it_is_there(clips: Path, tmp_path: Path, synced: list[str]) -> None:
    """All of it."""
    copy_file(clips / "u2.flac", tmp_path / "copy")
    assert synced == ["5 bytes"]


@pytest.mark.usefixtures("nothing_left_open")
@pytest.mark.parametrize("piece", [1, 2, 5])
def test_every_byte_is_overwritten_and_then_the_name_goes(
    clips: Path, monkeypatch: pytest.MonkeyPatch, synced: list[str], piece: int
) -> None:
    """However many the disk takes at once; each step is on disk before the next."""
    monkeypatch.setattr(own_files_module, "_PIECE", piece)
    with (clips / "u2.flac").open("rb") as kept:
        assert erase_file(clips / "u2.flac")
        assert kept.read() == bytes(5)
    assert synced == ["5 bytes", ""]


@pytest.mark.parametrize("call", ["open", "write", "fsync"])
def test_what_cannot_be_overwritten_is_taken_away_all_the_same(
    clips: Path, monkeypatch: pytest.MonkeyPatch, call: str
) -> None:
    """And it is told that its bytes may still be there."""
    real = getattr(os, call)

    def refuse(what: object, *given: int) -> object:
        """Of a folder, and to whoever only reads, nothing is refused."""
        reads = call == "open" and not given[0] & os.O_WRONLY
        if reads or (call == "fsync" and os.path.isdir(cast(int, what))):  # noqa: PTH112
            return real(what, *given)
        raise OSError(errno.EROFS, os.strerror(errno.EROFS))

    monkeypatch.setattr(os, call, refuse)
    assert not erase_file(clips / "u2.flac")
    assert list(clips.iterdir()) == []


def test_a_link_put_there_meanwhile_is_not_written_through(
    clips: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Although it was a file of the log when it was looked at."""
    (clips / "u3.flac").symlink_to(tmp_path / "secret")
    monkeypatch.setattr(own_files_module, "is_own", lambda _: True)
    assert not erase_file(clips / "u3.flac")
    assert (tmp_path / "secret").read_bytes() == b"not yours"
