"""Listing models; fetching one with Vosk's own downloader, from a folder instead of the net."""

from __future__ import annotations

import sys
import urllib.error
import zipfile
from collections.abc import Callable
from pathlib import Path
from types import SimpleNamespace

import pytest
import vosk

from voicelog.errors import EarFault, StorageFault, UsageFault
from voicelog.recognise import models
from voicelog.recognise.models import SMALL_ENGLISH, get_model, list_models
from voicelog.recognise.vosk_models import is_model

WHOLE = ("am/final.mdl", "conf/mfcc.conf", "graph/HCLr.fst", "README")


@pytest.fixture
def serve(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Callable[..., Path]:
    """Make Vosk fetch from a folder: its downloader takes any address urllib knows."""
    site = tmp_path / "site"
    site.mkdir()
    monkeypatch.setattr(vosk, "MODEL_PRE_URL", site.as_uri() + "/")

    def put(*files: str) -> Path:
        path = site / f"{SMALL_ENGLISH}.zip"
        with zipfile.ZipFile(path, "w") as archive:
            for file in files:
                archive.writestr(f"{SMALL_ENGLISH}/{file}", "x" * 20_000)
        return path

    return put


def _refusing(error: Exception) -> object:
    """A library whose downloader fails."""

    class Library:
        """Stands in for vosk."""

        class Model:
            """With the one method that is used."""

            @staticmethod
            def download_model(*_: object) -> None:
                """Fail."""
                raise error

    return Library


def test_model_is_fetched_checked_and_put_in_place(
    serve: Callable[..., Path], tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """With progress to the end, nothing printed by the library, nothing left over."""
    serve(*WHOLE)
    told: list[tuple[int, int | None]] = []
    cache = tmp_path / "home" / "cache"
    folder = get_model(progress=lambda done, total: told.append((done, total)), cache=cache)
    assert folder == cache / SMALL_ENGLISH
    assert is_model(folder)
    assert told[-1][0] == told[-1][1] > 0
    assert list(cache.iterdir()) == [folder]
    assert capsys.readouterr() == ("", "")


def test_progress_may_print_to_standard_error(
    serve: Callable[..., Path], tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Only the library's own bar is muted."""
    serve(*WHOLE)
    get_model(progress=lambda done, _total: print(done, file=sys.stderr), cache=tmp_path / "c")
    assert capsys.readouterr().err.startswith("0\n")


def test_model_that_is_there_is_not_fetched(serve: Callable[..., Path], tmp_path: Path) -> None:
    """The second time needs no site."""
    archive = serve(*WHOLE)
    first = get_model(cache=tmp_path / "c")
    archive.unlink()
    assert get_model(cache=tmp_path / "c") == first


def test_half_a_model_in_its_place_is_replaced(serve: Callable[..., Path], tmp_path: Path) -> None:
    """Somebody's broken download does not stand in the way."""
    serve(*WHOLE)
    (tmp_path / "c" / SMALL_ENGLISH / "am").mkdir(parents=True)
    folder = get_model(cache=tmp_path / "c")
    assert is_model(folder)
    assert list((tmp_path / "c").iterdir()) == [folder]


@pytest.mark.parametrize("files", [(), ("README",), ("am/final.mdl", "conf/mfcc.conf")])
def test_half_a_model_is_refused(
    serve: Callable[..., Path], tmp_path: Path, files: tuple[str, ...]
) -> None:
    """And leaves nothing behind."""
    serve(*files)
    with pytest.raises(EarFault, match="is not a Vosk model"):
        get_model(cache=tmp_path / "c")
    assert list((tmp_path / "c").iterdir()) == []


def test_damaged_archive_is_refused(serve: Callable[..., Path], tmp_path: Path) -> None:
    """A flipped byte in the middle fails the archive's own check sum."""
    archive = serve(*WHOLE)
    content = bytearray(archive.read_bytes())
    content[len(content) // 3] ^= 0xFF
    archive.write_bytes(content)
    with pytest.raises(EarFault, match="arrived damaged"):
        get_model(cache=tmp_path / "c")


def test_nothing_at_the_address_is_said_plainly(serve: Callable[..., Path], tmp_path: Path) -> None:
    """No archive there: an ear fault with the ways out, not an exit."""
    with pytest.raises(EarFault, match=r"cannot be fetched.*--model"):
        get_model(cache=tmp_path / "c")


@pytest.mark.parametrize(
    "error",
    [
        urllib.error.URLError("Name or service not known"),
        TimeoutError("timed out"),
        ConnectionResetError("reset"),
    ],
)
def test_no_network_is_said_plainly(tmp_path: Path, error: Exception) -> None:
    """Whatever form the missing network takes."""
    with pytest.raises(EarFault, match="Check the network"):
        get_model(library=_refusing(error), cache=tmp_path / "c")


def test_full_disk_is_a_storage_fault(tmp_path: Path) -> None:
    """It is not the network's fault."""
    full = OSError(28, "No space left on device")
    with pytest.raises(StorageFault, match="No space left"):
        get_model(library=_refusing(full), cache=tmp_path / "c")


def test_unknown_name_is_a_usage_fault(tmp_path: Path) -> None:
    """Naming what can be had; the library is not even asked."""
    with pytest.raises(UsageFault, match=SMALL_ENGLISH):
        get_model("vosk-model-klingon", library=object(), cache=tmp_path)


def test_list_tells_what_is_there_and_what_could_be(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    """The built-in model is installed; the Vosk model comes with the command that gets it."""
    monkeypatch.setattr(models, "english_models", lambda: ())
    monkeypatch.setattr(models, "SECOND_FILES", SimpleNamespace(folder=lambda: tmp_path))
    built_in, second, vosk = list_models()
    assert (built_in.ear, built_in.hint) == ("built-in", "")
    assert built_in.folder is not None
    assert (second.ear, second.folder, second.hint) == ("second", tmp_path, "")
    assert (vosk.name, vosk.folder) == (SMALL_ENGLISH, None)
    assert f"voicelog model get {SMALL_ENGLISH}" in vosk.hint
    monkeypatch.setattr(models, "english_models", lambda: (tmp_path / SMALL_ENGLISH,))
    assert [status.hint for status in list_models()] == ["", "", ""]


def test_list_tells_how_to_get_the_second_ear(monkeypatch: pytest.MonkeyPatch) -> None:
    """It is an extra that may be absent."""

    def absent() -> Path:
        raise EarFault("The second ear's model is not installed", "Install it")

    monkeypatch.setattr(models, "SECOND_FILES", SimpleNamespace(folder=absent))
    second = next(status for status in list_models() if status.ear == "second")
    assert (second.folder, second.hint) == (None, "Install it")
