"""The harness for damaged logs, on small logs that take no ear."""

from __future__ import annotations

import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

FAULTS = Path(__file__).parents[1]


@pytest.fixture(scope="session", autouse=True)
def _harness() -> Iterator[None]:
    """Its modules lie beside this folder."""
    sys.path.insert(0, str(FAULTS))
    from damage_grammars import checked_once

    with checked_once():
        yield
