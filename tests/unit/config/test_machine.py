"""What the machine remembers: written whole, checked like settings, and lying under them."""

from __future__ import annotations

import logging
import os
import stat
import subprocess
import sys
import tomllib
from datetime import date
from pathlib import Path

import pytest

from voicelog.config.machine import FILE, forget, machine_file, remember, remembered
from voicelog.config.settings import Settings, load_settings
from voicelog.errors import GrammarFault, StorageFault


@pytest.fixture
def file(tmp_path: Path) -> Path:
    """Where this machine would remember; nothing is there yet, not even its folder."""
    return tmp_path / "voicelog" / FILE


def _settings(file: Path, **environ: str) -> Settings:
    """The settings in force with their file beside what is remembered."""
    settings_file = file.with_name("settings.toml")
    settings_file.touch()
    return load_settings(user_file=settings_file, environ=environ)


def test_nothing_is_remembered_at_first(file: Path) -> None:
    """Asking makes no file."""
    assert remembered(file) == {}
    assert not file.exists()


def test_what_is_remembered_comes_back(file: Path) -> None:
    """Text, number and date, in a file that a person can read."""
    remember(file=file, microphone="USB headset", bias=0.3, bias_on=date(2026, 3, 14))
    assert remembered(file) == {
        "microphone": "USB headset", "bias": 0.3, "bias_on": date(2026, 3, 14),
    }  # fmt: skip
    assert 'microphone = "USB headset"\nbias = 0.3\nbias_on = 2026-03-14\n' in file.read_text()


def test_other_values_stay(file: Path) -> None:
    """Choosing a microphone does not forget the bias, and forgetting that keeps the microphone."""
    remember(file=file, bias=0.3)
    remember(file=file, microphone="USB headset")
    assert remembered(file) == {"bias": 0.3, "microphone": "USB headset"}
    forget("bias", file=file)
    assert remembered(file) == {"microphone": "USB headset"}


def test_only_the_owner_can_read_it(file: Path) -> None:
    """File and folder, also when the file was open to others before."""
    remember(file=file, bias=0.3)
    file.chmod(0o644)
    remember(file=file, bias=0.2)
    open_to = 0o777 if os.name == "posix" else 0  # elsewhere the folder's own list decides
    assert stat.S_IMODE(file.stat().st_mode) & open_to == 0o600 & open_to
    assert stat.S_IMODE(file.parent.stat().st_mode) & open_to == 0o700 & open_to


@pytest.mark.parametrize(
    "name",
    [
        'a "quoted" \\ name',
        "two\nlines = 1\n[table]",
        "bell \x07, escape \x1b[31m, delete \x7f",
        "Mikrofon für Bühne \N{MICROPHONE}",
    ],
)
def test_any_name_survives(file: Path, name: str) -> None:
    """A device may be called anything; the file stays TOML of one key."""
    remember(file=file, microphone=name)
    assert tomllib.loads(file.read_text("utf-8")) == {"microphone": name}
    assert remembered(file) == {"microphone": name}


@pytest.mark.parametrize(
    ("values", "told"),
    [
        ({"bias": 9.0}, "bias: must be at most 2"),
        ({"bias": "strong"}, "bias: must be a number"),
        ({"microphone": ""}, "microphone: must not be empty"),
        ({"map": "ladder-frame"}, "map: unknown key"),
        ({"biass": 0.3}, "did you mean 'bias'"),
    ],
)
def test_values_are_checked_before_writing(
    file: Path, values: dict[str, object], told: str
) -> None:
    """By the checks of a settings file; what was there stays."""
    remember(file=file, bias=0.3)
    before = file.read_bytes()
    with pytest.raises(GrammarFault, match=told):
        remember(file=file, **values)
    assert file.read_bytes() == before


@pytest.mark.parametrize(
    "content",
    [b"bias = ", b"bias = 7.5\n", b'bias = "0.3"\n', b"\xff\xfe", b'map = "other"\n'],
)
def test_a_broken_file_is_told_once_and_left_alone(
    file: Path, content: bytes, caplog: pytest.LogCaptureFixture
) -> None:
    """It counts as absent; one warning gives the file and the next step."""
    file.parent.mkdir()
    file.write_bytes(content)
    with caplog.at_level(logging.WARNING):
        assert remembered(file) == {}
    (record,) = caplog.records
    assert FILE in record.getMessage()
    assert "delete the file" in record.getMessage()
    assert "\n" not in record.getMessage()
    assert file.read_bytes() == content


def test_a_broken_file_is_not_written_over(file: Path) -> None:
    """Whoever wanted to remember something is told why it was not."""
    file.parent.mkdir()
    file.write_text("bias = ")
    with pytest.raises(GrammarFault, match="delete the file"):
        remember(file=file, microphone="USB headset")
    assert file.read_text() == "bias = "


def test_a_folder_in_its_place_is_survived(file: Path) -> None:
    """Reading counts it as absent, writing says so."""
    file.mkdir(parents=True)
    assert remembered(file) == {}
    with pytest.raises(GrammarFault, match="cannot be read"):
        remember(file=file, bias=0.3)


def test_a_refusing_disk_leaves_nothing_half_written(
    file: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The old file holds, and no draft stays behind."""
    remember(file=file, bias=0.3)

    def full(_descriptor: int) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "fsync", full)
    with pytest.raises(StorageFault, match="No space left"):
        remember(file=file, bias=0.2)
    assert remembered(file) == {"bias": 0.3}
    assert list(file.parent.iterdir()) == [file]


def test_it_lies_above_the_shipped_settings(file: Path) -> None:
    """What was found holds where nobody said otherwise."""
    remember(file=file, microphone="USB headset", bias=0.3, bias_on=date(2026, 3, 14))
    settings = _settings(file)
    assert (settings.microphone, settings.bias) == ("USB headset", 0.3)
    assert settings == Settings(microphone="USB headset", bias=0.3, learned=file.parent)


def test_it_lies_under_what_a_person_says(file: Path) -> None:
    """The settings file, the environment and the command line each hold over it."""
    remember(file=file, microphone="USB headset", bias=0.3)
    settings_file = file.with_name("settings.toml")
    settings_file.write_text("bias = 0.5\n")
    assert load_settings(user_file=settings_file, environ={}).bias == 0.5
    settings_file.write_text("")
    assert _settings(file, VOICELOG_BIAS="0.1").bias == 0.1
    flags = {"microphone": "built-in"}
    assert load_settings(flags, user_file=settings_file, environ={}).microphone == "built-in"


def test_a_broken_one_keeps_nobody_from_starting(
    file: Path, caplog: pytest.LogCaptureFixture
) -> None:
    """The shipped settings hold, and it is said why."""
    file.parent.mkdir()
    file.write_text("bias = 7.5\n")
    assert _settings(file) == Settings(learned=file.parent)
    assert "line 1: bias: must be at most 2" in caplog.text


def test_it_lies_beside_the_settings_file(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """In the user's configuration folder, wherever the system keeps that."""
    from voicelog.config.settings import default_user_file

    monkeypatch.setenv("XDG_CONFIG_HOME", str(tmp_path))
    monkeypatch.setenv("LOCALAPPDATA", str(tmp_path))
    assert machine_file() == default_user_file().with_name(FILE)
    remember(bias=0.3)
    assert remembered() == {"bias": 0.3}
    assert load_settings(environ={}).bias == 0.3


def test_nothing_remembered_costs_nothing(tmp_path: Path) -> None:
    """Settings are loaded without pydantic, so that short commands answer at once."""
    code = (
        "import sys; from voicelog.config.settings import load_settings; "
        "load_settings(environ={}); sys.exit('pydantic' in sys.modules)"
    )
    folders = {"XDG_CONFIG_HOME": str(tmp_path), "LOCALAPPDATA": str(tmp_path)}
    done = subprocess.run([sys.executable, "-c", code], env={**os.environ, **folders}, check=False)
    assert done.returncode == 0
