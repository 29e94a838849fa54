"""The setting that lets a second ear hear again: by flag, file and variable, and what doctor says."""

from __future__ import annotations

from pathlib import Path

import pytest
from click.testing import CliRunner

from voicelog.cli import doctor as doctor_module
from voicelog.cli.doctor import doctor
from voicelog.config.settings import Settings, load_settings
from voicelog.errors import GrammarFault
from voicelog.recognise.lookup import EarStatus


@pytest.fixture
def no_file(tmp_path: Path) -> Path:
    """A settings file that says nothing."""
    file = tmp_path / "settings.toml"
    file.touch()
    return file


def test_it_is_used_where_it_is_installed_unless_switched_off(no_file: Path) -> None:
    """Whoever installed the extra wants it; a flag holds over a variable."""
    assert Settings().second_ear == "auto"
    environ = {"VOICELOG_SECOND_EAR": "off"}
    assert load_settings(user_file=no_file, environ=environ).second_ear == "off"
    flags = {"second_ear": "auto"}
    assert load_settings(flags, user_file=no_file, environ=environ).second_ear == "auto"


def test_anything_else_is_refused(no_file: Path) -> None:
    """With what it can be."""
    with pytest.raises(GrammarFault, match="auto"):
        load_settings({"second_ear": "always"}, user_file=no_file, environ={})


@pytest.mark.parametrize(
    ("there", "setting", "told"),
    [
        (True, "auto", "will hear again what was unsure: second"),
        (True, "off", "will hear again what was unsure: nothing (second_ear is off)"),
        (False, "auto", "will hear again what was unsure: nothing"),
    ],
)
def test_doctor_says_whether_it_will_be_used(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path, there: bool, setting: str, told: str
) -> None:
    """Beside which ear hears first."""
    for name in ("HOME", "XDG_CONFIG_HOME", "XDG_DATA_HOME"):
        monkeypatch.setenv(name, str(tmp_path))
    monkeypatch.setenv("VOICELOG_SECOND_EAR", setting)
    found = (EarStatus("built-in", True, "a model"), EarStatus("second", there, "another"))
    monkeypatch.setattr(doctor_module, "ears", lambda *_, **__: found)
    assert f"  {told}" in CliRunner().invoke(doctor).output.splitlines()
