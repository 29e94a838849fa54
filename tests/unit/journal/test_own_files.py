"""A log's own files, and no others: links, strange names and second names lead nowhere."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from voicelog.journal.own_files import copy_file, erase_file, own_file, own_files, sha256_of


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
     "clips/u2.flac\x00", "clips/a/u2.flac", "clips\\u2.flac", "clips/.", "clips/", ""],
)  # fmt: skip
def test_other_names_are_none(clips: Path, name: str) -> None:
    """Only what lies in that folder, under a plain name."""
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
