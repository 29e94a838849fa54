"""What the tests of recovering share: an inspection that was said once, and copies to be damaged."""

from __future__ import annotations

import shutil
import sys
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parent))

from spoken_log import SAID, spoken_log


@pytest.fixture(scope="module")
def spoken(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """That inspection, said once: line 1 opens it, 2 to 6 are what was said, 7 closes it."""
    return spoken_log(tmp_path_factory.mktemp("said"))


@pytest.fixture(scope="module")
def other(tmp_path_factory: pytest.TempPathFactory) -> list[bytes]:
    """The lines of another one."""
    folder = spoken_log(tmp_path_factory.mktemp("other"), SAID[:4], noise=2)
    return (folder / "journal.jsonl").read_bytes().splitlines(keepends=True)


@pytest.fixture
def log(spoken: Path, tmp_path: Path) -> Path:
    """A copy of it to be damaged."""
    return shutil.copytree(spoken, tmp_path / "logs" / "pickup")


@pytest.fixture
def lines(log: Path) -> list[bytes]:
    """Its lines as they were written."""
    return (log / "journal.jsonl").read_bytes().splitlines(keepends=True)
