"""Cases of ``machine.py`` that the tests try as well: real processes, three at a time."""

from __future__ import annotations

import sys
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parent))

import machine
from machine_case import CASES, Outcome

AT_ONCE = 3
"""They mostly wait for sound that takes its time."""


def pytest_generate_tests(metafunc: pytest.Metafunc) -> None:
    """A test that asks for ``befallen`` is played for every quick case of the part it names."""
    if "befallen" in metafunc.fixturenames:
        part = metafunc.module.PART
        names = [case.name for case in CASES if case.quick and case.part == part]
        metafunc.parametrize("befallen", names, indirect=True)


@pytest.fixture(scope="session")
def played(
    request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory
) -> Iterator[dict[str, object]]:
    """All cases that were asked for, begun at once; what came of each."""
    asked = {
        str(item.callspec.params["befallen"])
        for item in request.session.items
        if "befallen" in getattr(item, "fixturenames", ())
    }
    folder = tmp_path_factory.mktemp("machine")
    with ThreadPoolExecutor(AT_ONCE) as pool:
        yield {
            case.name: pool.submit(machine.played, case, folder / case.name)
            for case in CASES
            if case.name in asked
        }


@pytest.fixture
def befallen(request: pytest.FixtureRequest, played: dict[str, object]) -> Outcome:
    """What came of one case."""
    outcome: Outcome = played[request.param].result()  # type: ignore[attr-defined]
    return outcome
