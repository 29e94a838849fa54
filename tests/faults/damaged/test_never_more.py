"""Every kind of damage, a few cases each: what is recovered is never more than was written, and nothing
unsafe is softened without a word. ``python tests/faults/damage.py`` tries hundreds.
"""

from __future__ import annotations

import sys
from collections.abc import Sequence
from pathlib import Path
from typing import Any

import pytest

sys.path.insert(0, str(Path(__file__).parents[1]))

import damage
from damage_logs import small_logs

CASES = range(2)


@pytest.fixture(scope="session")
def logs(tmp_path_factory: pytest.TempPathFactory) -> Sequence[Any]:
    """A typed log, and one with sound and pictures that was gone over and signed."""
    return small_logs(tmp_path_factory.mktemp("damaged"))


@pytest.mark.parametrize("kind", damage.KINDS, ids=lambda kind: kind.what)
def test_damage_is_named_and_what_is_whole_comes_back(kind: Any, logs: Sequence[Any]) -> None:
    """The damaged log stays as it is; where lines are lost, the new log says so."""
    counted = damage.run(kind, logs, 20260314, CASES)
    assert (counted.tried, dict(counted.wrong)) == (len(CASES), {})
    assert counted.recovered + counted.trusted >= counted.whole * 0.9
    if kind.shows:
        assert counted.named == counted.tried
