"""The corpus's modules are scripts beside their data, not a package: their folder goes on the path."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest

CORPUS = Path(__file__).parents[2] / "corpus"
sys.path.insert(0, str(CORPUS))


@pytest.fixture(scope="session")
def spoken() -> list[str]:
    """A thousand invented utterances and more, of both parts."""
    from generate import cases

    parts = ("tuning", "untouched")
    return [said for part in parts for case in cases(3, 600, part) for said in case["say"]]
