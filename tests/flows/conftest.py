"""What the end-to-end tests share: running the program, and comparing entries."""

from __future__ import annotations

import os
import subprocess
import sys
from collections.abc import Callable, Mapping
from pathlib import Path
from typing import Any

import pytest

sys.path.insert(0, str(Path(__file__).parent))  # impacts.py lies beside the tests

LENGTH_TOLERANCE = 0.01
"""Spoken lengths may be rounded: 1 % counts as equal."""

Run = Callable[..., "subprocess.CompletedProcess[str]"]


@pytest.fixture
def run(tmp_path: Path) -> Run:
    """Runs ``python -m voicelog`` away from the user's own settings and logs."""
    home = tmp_path / "home"
    home.mkdir()
    kept = {name: value for name, value in os.environ.items() if not name.startswith("VOICELOG_")}
    environ = {**kept, "HOME": str(home), "XDG_CONFIG_HOME": str(home), "XDG_DATA_HOME": str(home)}

    def call(*arguments: object, given: str = "") -> subprocess.CompletedProcess[str]:
        command = [sys.executable, "-m", "voicelog", *map(str, arguments)]
        return subprocess.run(
            command, input=given, capture_output=True, text=True, timeout=120, check=False,
            env=environ, cwd=tmp_path,
        )  # fmt: skip

    return call


def _agrees(name: str, wanted: object, got: object) -> bool:
    if name.endswith(("_mm", "_percent")) and isinstance(got, int | float):
        assert isinstance(wanted, int | float)
        return abs(got - wanted) <= LENGTH_TOLERANCE * abs(wanted)
    return got == wanted


@pytest.fixture
def differences() -> Callable[[Mapping[str, Any], Mapping[str, Any]], dict[str, Any]]:
    """Compares an entry with what was wanted: slot to (wanted, got), for the slots wanted."""

    def compare(wanted: Mapping[str, Any], entry: Mapping[str, Any]) -> dict[str, Any]:
        return {
            name: (value, entry.get(name))
            for name, value in wanted.items()
            if not _agrees(name, value, entry.get(name))
        }

    return compare
