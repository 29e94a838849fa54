"""What other Python programs may rely on: named in one place, and explained."""

from __future__ import annotations

import inspect
import subprocess
import sys
from pathlib import Path

import pytest

from voicelog import api
from voicelog.config.settings import Settings
from voicelog.runtime.opening import open_reading


@pytest.mark.parametrize("name", sorted(set(api.__all__) - {"__version__", "CONTRACT"}))
def test_every_public_name_is_there_and_explained(name: str) -> None:
    """Functions say what they take and what they raise."""
    found = getattr(api, name)
    told = inspect.getdoc(found) or ""
    assert told
    if inspect.isfunction(found):
        assert "Args:" in told
        assert "Raises:" in told or "Returns:" in told


def test_the_package_itself_loads_nothing() -> None:
    """Whoever imports it for its version waits for nothing else."""
    code = "import sys, voicelog; print(*(m for m in sys.modules if m.startswith('voicelog')))"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.split() == ["voicelog"]


def test_a_log_becomes_a_document_that_fits(tmp_path: Path) -> None:
    """The three names together, as another program would use them."""
    with open_reading(Settings(into=tmp_path), keep=True) as session:
        session.read("left sill, hole", at_s=0.0)
        folder = session.folder
    assert folder is not None
    document = api.document_of(api.open_log(folder))
    api.validate(document, "inspection")
    assert document["entries"][0]["condition"] == "hole"
