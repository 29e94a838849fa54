"""A workshop in which the guide's commands can be tried."""

from __future__ import annotations

import shutil
import sys
from collections.abc import Callable
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from voicelog.cli.main import cli
from voicelog.cli.topics import GUIDE

sys.path.insert(0, str(Path(__file__).parent))  # guide_reader.py lies beside the tests

MOMENT = "20260314T080530Z-pickup-12"
"""The log that the guide names by its path."""
SAID = (
    "left front rail, surface rust, metal is firm",
    "right outrigger, hole, twenty millimetres",
    "left rear rail is clean, probed it all solid",
)


@pytest.fixture(scope="session")
def checked(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Grammars that were checked before: checking one takes longer than all else here."""
    return tmp_path_factory.mktemp("cache")


@pytest.fixture
def own_folders(tmp_path: Path, checked: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Nothing of the tester's own is read or written; the working folder is empty."""
    for name in ("CONFIG", "DATA"):
        monkeypatch.setenv(f"XDG_{name}_HOME", str(tmp_path / name.lower()))
    monkeypatch.setenv("XDG_CACHE_HOME", str(checked))
    monkeypatch.setenv("HOME", str(tmp_path / "home"))
    monkeypatch.chdir(tmp_path)
    return tmp_path


def _call(*words: str) -> Result:
    return CliRunner().invoke(cli, list(words), input="y\n", prog_name="voicelog")


@pytest.fixture
def run() -> Callable[..., Result]:
    """Runs a command line; what is typed is "y"."""
    return _call


@pytest.fixture(scope="session")
def kept(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with two logs of the same words, made once."""
    logs = tmp_path_factory.mktemp("kept")
    for _ in range(2):
        assert _call("read", *SAID, "--into", str(logs)).exit_code == 0
    return logs


@pytest.fixture
def workshop(own_folders: Path, kept: Path) -> Path:
    """A folder with the guide's example files, two logs, and a backup of one."""
    for file in (GUIDE / "example").glob("*.toml"):
        shutil.copy(file, own_folders)
    logs = shutil.copytree(kept, own_folders / "data" / "voicelog" / "inspections")
    old, new = sorted(logs.iterdir())
    shutil.copytree(new, own_folders / "home" / "backup" / MOMENT)
    shutil.copytree(old, own_folders / "OLD")
    shutil.copytree(new, own_folders / "NEW")
    return own_folders
