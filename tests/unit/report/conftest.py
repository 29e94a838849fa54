"""The shipped maps and rules, and reports of inspections that are folded by hand."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest

from voicelog.config.grammar import Grammar, load_grammar

sys.path.insert(0, str(Path(__file__).parent))


@pytest.fixture(scope="session")
def grammar() -> Grammar:
    """What a person gets who edits nothing."""
    return load_grammar()
