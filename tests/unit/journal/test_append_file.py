"""A file that only grows."""

from __future__ import annotations

import os
import stat
from pathlib import Path

import pytest

from voicelog.journal.append_file import AppendFile


def test_a_new_file_takes_nobody_elses_place(tmp_path: Path) -> None:
    """A journal is made once."""
    AppendFile(tmp_path / "j", new=True).close()
    assert stat.S_IMODE((tmp_path / "j").stat().st_mode) == 0o600
    with pytest.raises(FileExistsError):
        AppendFile(tmp_path / "j", new=True)


def test_what_lies_beyond_the_whole_lines_is_cut_off_first(tmp_path: Path) -> None:
    """Nothing is glued to the half piece of a refused write."""
    (tmp_path / "j").write_bytes(b"whole\nhal")
    file = AppendFile(tmp_path / "j")
    file.append(b"next\n", size=6)
    file.close()
    assert (tmp_path / "j").read_bytes() == b"whole\nnext\n"


def test_a_file_that_lost_lines_is_not_written_to(tmp_path: Path) -> None:
    """Cutting a shorter file would fill it with zeros."""
    (tmp_path / "j").write_bytes(b"who")
    file = AppendFile(tmp_path / "j")
    with pytest.raises(OSError, match="lost some of its lines"):
        file.append(b"next\n", size=6)
    file.close()
    assert (tmp_path / "j").read_bytes() == b"who"


def test_a_closed_file_is_not_written_to(tmp_path: Path) -> None:
    """Closing twice is harmless; writing afterwards is a mistake of the program."""
    file = AppendFile(tmp_path / "j", new=True)
    file.close()
    file.close()
    with pytest.raises(ValueError, match="closed"):
        file.append(b"next\n", size=0)


def test_the_last_piece_is_written_once_more_in_its_place(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The file reads as before, and the disk is asked to write those bytes, not only to sync."""
    (tmp_path / "j").write_bytes(b"first\nlast\n")
    file, real, wrote = AppendFile(tmp_path / "j"), os.write, []

    def noting(handle: int, data: bytes) -> int:
        wrote.append((os.lseek(handle, 0, os.SEEK_CUR), bytes(data)))
        return real(handle, data)

    monkeypatch.setattr(os, "write", noting)
    file.renew(b"last\n", size=11)
    file.close()
    assert wrote == [(6, b"last\n")]
    assert (tmp_path / "j").read_bytes() == b"first\nlast\n"


def test_the_name_of_a_new_file_stays(tmp_path: Path, synced: list[str]) -> None:
    """The disk has it before anything is written; one that is there already has its name."""
    AppendFile(tmp_path / "j", new=True).close()
    assert synced == ["j"]
    AppendFile(tmp_path / "j").close()
    assert synced == ["j"]


def test_what_was_cut_off_does_not_come_back(tmp_path: Path, synced: list[str]) -> None:
    """The disk has the shorter file; where nothing is cut off there is nothing to keep."""
    (tmp_path / "j").write_bytes(b"whole\nhal")
    file = AppendFile(tmp_path / "j")
    file.cut(6)
    file.cut(6)
    file.close()
    assert synced == ["6 bytes"]


def test_a_piece_written_once_more_is_kept(tmp_path: Path, synced: list[str]) -> None:
    """That is what it was written again for."""
    (tmp_path / "j").write_bytes(b"first\nlast\n")
    file = AppendFile(tmp_path / "j")
    file.renew(b"last\n", size=11)
    file.close()
    assert synced == ["11 bytes"]


@pytest.mark.usefixtures("nothing_left_open")
def test_nothing_stays_open(tmp_path: Path) -> None:
    """Neither the file nor what it was written again through."""
    file = AppendFile(tmp_path / "j", new=True)
    file.append(b"last\n", size=0)
    file.renew(b"last\n", size=5)
    file.close()


def test_what_a_link_leads_to_is_not_written_to(tmp_path: Path) -> None:
    """Not when it is opened, and not when the link was put there later."""
    (tmp_path / "theirs").write_bytes(b"first\nlast\n")
    (tmp_path / "j").symlink_to(tmp_path / "theirs")
    with pytest.raises(OSError, match=r"."):
        AppendFile(tmp_path / "j")
    file = AppendFile(tmp_path / "own", new=True)
    (tmp_path / "own").unlink()
    (tmp_path / "own").symlink_to(tmp_path / "theirs")
    with pytest.raises(OSError, match=r"."):
        file.renew(b"LAST\n", size=11)
    file.close()
    assert (tmp_path / "theirs").read_bytes() == b"first\nlast\n"
