"""Whatever the commands leave on a machine lies where ``voicelog doctor`` says."""

from __future__ import annotations

import os
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest
from click.testing import CliRunner

from voicelog.cli.main import cli
from voicelog.config.machine import remember
from voicelog.config.settings import load_settings
from voicelog.domain.heard import Heard, Hypothesis
from voicelog.domain.sound import Clip
from voicelog.recognise.typed_engine import TypedEar
from voicelog.runtime.kept import Kept, kept_here
from voicelog.runtime.opening import open_reading

SAID = "left rear rail, seal, scale"
"""An ear took a sill for a seal."""


@pytest.fixture(scope="module")
def home(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Path]:
    """A home, temporary files within, in which voicelog was used for the first time."""
    folder = tmp_path_factory.mktemp("home")
    folder.chmod(0o755)
    with pytest.MonkeyPatch.context() as patch:
        for name in [name for name in os.environ if name.startswith(("XDG_", "VOICELOG_"))]:
            patch.delenv(name)
        for name in ("HOME", "USERPROFILE", "LOCALAPPDATA", "APPDATA"):
            patch.setenv(name, str(folder))
        patch.setattr("tempfile.tempdir", str(folder))
        patch.chdir(folder)
        _inspect()
        _work()
        yield folder


def _inspect() -> None:
    with open_reading(load_settings(), keep=True) as session:
        session.ear = TypedEar()
        clip = Clip(bytes(range(250)) * 64, start_s=0.0, speech_end_s=0.4)
        session.hear(clip, heard=Heard((Hypothesis(SAID),), "built-in"))


def _work() -> None:
    """A correction that teaches, a signature, an export, a sound erased, something remembered."""
    for line in (
        "amend last --entry e2.1 --set zone=sill --learn shop",
        "sign last --by Sam --why walked-away",
        "export last --to pdf -o asked-for.pdf",
        "erase last --clip u2 --yes",
    ):
        done = CliRunner().invoke(cli, line.split())
        assert done.exit_code == 0, (line, done.output, done.exception)
    remember(microphone="lapel")


LOAD = """
from voicelog.recognise.lookup import open_ear
from voicelog.announce.lookup import open_voice
open_ear("built-in", phrases=("sill",))
open_voice("built-in").speak("hole")
"""


def test_the_networks_libraries_leave_nothing(tmp_path: Path) -> None:
    """Else onnxruntime would number the machine and queue what it tells its maker, in the user's cache."""
    mine = {**os.environ, "HOME": str(tmp_path), "XDG_CACHE_HOME": str(tmp_path)}
    mine.pop("ORT_DISABLE_TELEMETRY", None)
    subprocess.run([sys.executable, "-c", LOAD], env=mine, check=True, timeout=60)
    assert list(tmp_path.rglob("*")) == []


def _told(path: Path, places: list[Kept]) -> bool:
    return any(path == kept.at or kept.at in path.parents for kept in places)


def test_every_file_lies_where_doctor_says(home: Path) -> None:
    """Only what was asked for by name lies elsewhere."""
    places = [kept for kept in kept_here(load_settings()) if kept.files]
    left = sorted(path for path in home.rglob("*") if path.is_file())
    elsewhere = [path.name for path in left if not _told(path, places)]
    assert elsewhere == ["asked-for.pdf"]
    assert [kept.name for kept in places] == ["logs", "learned", "remembered", "cache"]
    told = sum(kept.files for kept in places)
    assert told == len(left) - len(elsewhere)


def test_nobody_else_can_read_any_of_it(home: Path) -> None:
    """Although everybody may look into that home."""
    places = list(kept_here(load_settings()))
    assert home.stat().st_mode & 0o055 == 0o055
    assert {kept.name: kept.readable for kept in places if kept.readable} == {}
