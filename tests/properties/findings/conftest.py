"""The shipped grammar, loaded once."""

from __future__ import annotations

import pytest

from voicelog.config.grammar import Grammar, load_grammar
from voicelog.findings.grading import Grader


@pytest.fixture(scope="session")
def grammar() -> Grammar:
    """What a person gets who edits nothing."""
    return load_grammar()


@pytest.fixture(scope="session")
def grader(grammar: Grammar) -> Grader:
    """Over the shipped map and severity table."""
    return Grader(grammar.zone_map, grammar.rules)
