"""What the tests of hostile input share: the corpus beside them, a runner, and an honest log."""

from __future__ import annotations

import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parent))

from hostile_logs import honest
from hostile_run import Runner, running


@pytest.fixture(scope="session")
def honest_log(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A log that means no harm; nobody may change it."""
    return honest(tmp_path_factory.mktemp("honest"))


@pytest.fixture(scope="session")
def run(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Runner]:
    """Runs commands in children with bounded memory and time."""
    with running(tmp_path_factory.mktemp("home")) as runner:
        yield runner
