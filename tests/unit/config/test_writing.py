"""Small TOML files written by the program."""

from __future__ import annotations

import os
import stat
import tomllib
from pathlib import Path

import pytest

from voicelog.config.writing import SHARED, replace_file, toml
from voicelog.errors import StorageFault


@pytest.mark.parametrize(
    "value",
    ["", 'a "quoted" \\ name', "two\nlines", "bell \x07, delete \x7f", ["a", "b"], 0.3, True],
)
def test_every_value_survives(value: object) -> None:
    """What is written is what a TOML parser reads."""
    assert tomllib.loads(f"x = {toml(value)}\n") == {"x": value}


def test_a_shared_file_is_as_open_as_the_machine_lets_it(tmp_path: Path) -> None:
    """A private one is not, whatever the mask."""
    before = os.umask(0o022)
    try:
        replace_file(tmp_path / "a.toml", "", otherwise="x", mode=SHARED)
        replace_file(tmp_path / "b.toml", "", otherwise="x")
    finally:
        os.umask(before)
    modes = [stat.S_IMODE((tmp_path / name).stat().st_mode) for name in ("a.toml", "b.toml")]
    assert modes == ([0o644, 0o600] if os.name == "posix" else modes)


def test_a_refused_write_leaves_the_old_file_and_nothing_else(tmp_path: Path) -> None:
    """The next step says what follows from it."""
    (tmp_path / "file").write_text("old")
    with pytest.raises(StorageFault, match="it is not learned"):
        replace_file(tmp_path / "file" / "a.toml", "new", otherwise="it is not learned")
    assert [path.name for path in tmp_path.iterdir()] == ["file"]
    assert (tmp_path / "file").read_text() == "old"


def test_a_read_only_file_is_left_alone(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The folder would let it be replaced, but somebody meant it to stay."""
    path = tmp_path / "a.toml"
    path.write_text("old")
    monkeypatch.setattr("os.access", lambda *_: False)
    with pytest.raises(StorageFault, match="read-only"):
        replace_file(path, "new", otherwise="it is not learned")
    assert path.read_text() == "old"
    assert list(tmp_path.iterdir()) == [path]


def test_a_link_stays_a_link(tmp_path: Path) -> None:
    """The file it leads to is replaced."""
    (tmp_path / "far").mkdir()
    path, far = tmp_path / "a.toml", tmp_path / "far" / "b.toml"
    if os.name != "posix":
        return  # a link needs a privilege there
    path.symlink_to(far)
    for text in ("one", "two"):
        replace_file(path, text, otherwise="it is not learned")
        assert path.is_symlink()
        assert far.read_text() == text
