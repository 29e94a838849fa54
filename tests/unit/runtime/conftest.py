"""What the tests of the runtime share."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest

from voicelog.config.grammar import Grammar, load_grammar

sys.path.insert(0, str(Path(__file__).parent))


@pytest.fixture(scope="session")
def shipped_grammar() -> Grammar:
    """The grammar as it ships."""
    return load_grammar()


@pytest.fixture(autouse=True)
def _no_slow_disk(monkeypatch: pytest.MonkeyPatch) -> None:
    """The disk of a busy machine is no news here."""
    monkeypatch.setattr("voicelog.runtime.acknowledging.SLOW_S", 600.0)
