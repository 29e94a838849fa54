"""Tests that are collected once and run many times: data is mutated only after the tests were imported.

What a Python module says is taken in when it is imported, so that mutants of code need an interpreter in
which nothing has imported it; files of ``grammar/`` are read when a test asks for them.
"""

from __future__ import annotations

import shutil
import sys
from collections.abc import Callable, Mapping, Sequence
from pathlib import Path

import pytest
from _pytest.main import pytest_runtestloop

Run = Callable[[str, str], int]
"""From a file of the project and what shall stand in it to the exit status of its tests."""


class Collected:
    """Stands in the place of pytest's own loop over the tests.

    Args:
        root: the project.
        tests: each mutated file with the tests that should notice.
        scratch: a folder for a grammar of which one file is another.
        answer: takes orders until there are none; it calls what it is given in a process of its own.
    """

    def __init__(
        self,
        root: Path,
        tests: Mapping[str, Sequence[str]],
        scratch: Path,
        answer: Callable[[Run], None],
    ) -> None:
        self._root, self._tests, self._scratch, self._answer = root, tests, scratch, answer
        self._session: pytest.Session | None = None

    @pytest.hookimpl(tryfirst=True)
    def pytest_runtestloop(self, session: pytest.Session) -> bool:
        """Try every mutant on what was collected."""
        self._session = session
        self._answer(self._outcome)
        return True

    def _outcome(self, file: str, source: str) -> int:
        assert self._session is not None
        paths = [self._root / test for test in self._tests[file]]
        items = sorted(
            (item for item in self._session.items if item.path in paths),
            key=lambda item: paths.index(item.path),
        )
        _put(self._root / "grammar", file, source, self._scratch)
        self._session.items = items
        try:
            pytest_runtestloop(self._session)
        except (self._session.Failed, self._session.Interrupted):
            return 1
        return int(self._session.testsfailed > 0 or not items)


def _put(shipped: Path, file: str, source: str, scratch: Path) -> None:
    """A grammar folder in which one file is another."""
    shutil.copytree(shipped, scratch, dirs_exist_ok=True)
    (scratch / Path(file).relative_to("grammar")).write_text(source, encoding="utf-8")
    for module in [*sys.modules.values()]:
        if hasattr(module, "grammar_dir"):
            module.grammar_dir = lambda: scratch
