"""Files of JSON are whole or not there."""

from __future__ import annotations

import json
import math
import os
import threading
from pathlib import Path

import pytest

from voicelog.errors import StorageFault
from voicelog.export import json_file
from voicelog.export.json_file import json_text, write_json


def _names(folder: Path) -> list[str]:
    return sorted(path.name for path in folder.iterdir())


def test_text_is_ascii_indented_and_ends_with_a_newline() -> None:
    """Control sequences and reading-direction marks do nothing on a terminal."""
    text = json_text({"text": "\x1b[2J\u202e\0"})
    assert text == '{\n  "text": "\\u001b[2J\\u202e\\u0000"\n}\n'
    assert json.loads(text) == {"text": "\x1b[2J\u202e\0"}


def test_a_number_that_is_not_finite_is_a_defect() -> None:
    """NaN is no JSON."""
    with pytest.raises(ValueError, match="JSON"):
        json_text({"size_mm": math.nan})


def test_an_earlier_file_is_replaced_and_nothing_else_is_left(tmp_path: Path) -> None:
    """Exporting again is fine."""
    path = tmp_path / "inspection.json"
    path.write_text("old")
    write_json({"a": 1}, path)
    assert json.loads(path.read_text(encoding="utf-8")) == {"a": 1}
    assert _names(tmp_path) == ["inspection.json"]


def test_a_failed_write_leaves_the_earlier_file(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A full disk costs the new document, never the old one, and leaves no scraps."""

    def full(_: int) -> None:
        raise OSError(28, "No space left on device")

    path = tmp_path / "inspection.json"
    path.write_text("old")
    monkeypatch.setattr(json_file.os, "fsync", full)
    with pytest.raises(StorageFault, match="No space left"):
        write_json({"a": 1}, path)
    assert path.read_text() == "old"
    assert _names(tmp_path) == ["inspection.json"]


@pytest.mark.parametrize("name", ["missing/inspection.json", "nul\0.json", "a" * 300, "\ud800"])
def test_a_path_that_cannot_be_written_is_a_storage_fault(tmp_path: Path, name: str) -> None:
    """One line that can be printed, with the next step."""
    path = tmp_path / (name if name != "\ud800" else "missing/\ud800")
    with pytest.raises(StorageFault) as caught:
        write_json({}, path)
    assert caught.value.hint
    assert str(caught.value).isascii()
    assert str(caught.value).isprintable()


def test_a_folder_is_refused(tmp_path: Path) -> None:
    """And stays as it was."""
    (tmp_path / "out").mkdir()
    with pytest.raises(StorageFault):
        write_json({}, tmp_path / "out")
    assert _names(tmp_path) == ["out"]
    assert _names(tmp_path / "out") == []


def test_a_link_is_followed(tmp_path: Path) -> None:
    """The file it points at is written; the link stays a link."""
    (tmp_path / "link.json").symlink_to("real.json")
    write_json({"a": 1}, tmp_path / "link.json")
    assert (tmp_path / "link.json").is_symlink()
    assert json.loads((tmp_path / "real.json").read_text()) == {"a": 1}


def test_a_pipe_is_written_to_and_not_replaced(tmp_path: Path) -> None:
    """As ``/dev/stdout`` is, or ``/dev/null``."""
    pipe, heard = tmp_path / "pipe", []
    os.mkfifo(pipe)
    reader = threading.Thread(target=lambda: heard.append(pipe.read_text()))
    reader.start()
    write_json({"a": 1}, pipe)
    reader.join(timeout=10)
    assert heard == ['{\n  "a": 1\n}\n']
    assert pipe.is_fifo()
