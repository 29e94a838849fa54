"""The process that tries mutants: it loads what they have in common once, and forks for each.

Run by ``mutation.py`` with an area's name; it takes mutants as lines of JSON on standard input, and
answers each with a line.
"""

from __future__ import annotations

import importlib
import importlib.abc
import importlib.util
import json
import os
import signal
import sys
import tempfile
import time
from collections.abc import Callable, Sequence
from functools import cache, partial
from importlib.machinery import ModuleSpec
from pathlib import Path
from types import ModuleType
from typing import TextIO

ROOT = Path(__file__).parents[2]
sys.path.insert(0, str(ROOT))

from mutation_areas import AREAS, Area  # noqa: E402

Run = Callable[[str, str], int]
"""From a file and what shall stand in it to the exit status of its tests."""

_ALWAYS = ("pytest", "hypothesis", "PIL.Image", "PIL.ImageDraw", "pi_heif", "pydantic", "numpy")
"""What tests of every part load."""

_PATIENCE_S = 20.0
"""Beyond four times what the tests take with the code as it is; a mutant may never end."""


class Instead(importlib.abc.MetaPathFinder, importlib.abc.Loader):
    """Has one module made of other source than lies in its file.

    Args:
        name: the module's.
        path: its file.
        source: the other source.
    """

    def __init__(self, name: str, path: Path, source: str) -> None:
        self._name, self._path, self._source = name, path, source

    def find_spec(self, fullname: str, path: object, target: object = None) -> ModuleSpec | None:
        """This loader, for that module alone."""
        if fullname != self._name:
            return None
        return importlib.util.spec_from_file_location(fullname, self._path, loader=self)

    def exec_module(self, module: ModuleType) -> None:
        """Run the other source."""
        exec(compile(self._source, str(self._path), "exec"), module.__dict__)  # noqa: S102


def main() -> None:
    """Answer every mutant with ``killed``, ``survived`` or ``timed out``."""
    area = AREAS[sys.argv[1]]
    orders, answers = os.fdopen(os.dup(0)), os.fdopen(os.dup(1), "w")
    os.chdir(ROOT)
    _silence()
    _warm(area)
    if all(file.endswith(".py") for file in area.tests):
        _answer(orders, answers, partial(_outcome, area))
        return
    with tempfile.TemporaryDirectory() as scratch:
        _collected(area, Path(scratch), partial(_answer, orders, answers))


def _silence() -> None:
    """What pytest prints is not for the pipes, nor does any test read from them."""
    nowhere = os.open(os.devnull, os.O_RDWR)
    for stream in range(3):
        os.dup2(nowhere, stream)


def _answer(orders: TextIO, answers: TextIO, run: Run) -> None:
    usual_s: dict[str, float] = {}
    for line in orders:
        order = json.loads(line)
        file, source = order["file"], order["source"]
        if file not in usual_s:
            begun, as_it_is = time.monotonic(), (ROOT / file).read_text(encoding="utf-8")
            whole = _tried(run, file, as_it_is, 600.0)
            usual_s[file] = time.monotonic() - begun
            if whole != "survived":
                print(json.dumps({"broken": file}), file=answers, flush=True)
                return
        answer = _tried(run, file, source, usual_s[file] * 4 + _PATIENCE_S)
        print(json.dumps({"answer": answer}), file=answers, flush=True)


def _warm(area: Area) -> None:
    os.environ["PYTEST_DISABLE_PLUGIN_AUTOLOAD"] = "1"  # they take longer than the tests
    for name in (*_ALWAYS, *area.warm):
        importlib.import_module(name)
    if area.warm_grammar:
        from voicelog.config import grammar

        grammar.load_grammar = cache(grammar.load_grammar)
        grammar.load_grammar()


def _tried(run: Run, file: str, source: str, patience_s: float) -> str:
    child = os.fork()
    if child == 0:
        try:
            os.setsid()
            os._exit(run(file, source))
        finally:
            os._exit(1)
    end = time.monotonic() + patience_s
    while time.monotonic() < end:
        done, status = os.waitpid(child, os.WNOHANG)
        if done:
            return "survived" if os.waitstatus_to_exitcode(status) == 0 else "killed"
        time.sleep(0.02)
    os.killpg(child, signal.SIGKILL)
    os.waitpid(child, 0)
    return "timed out"


def _outcome(area: Area, file: str, source: str) -> int:
    """The exit status of the tests of code: 0 where all of them passed."""
    name = file.removesuffix(".py").replace("/", ".")
    sys.meta_path.insert(0, Instead(name, ROOT / file, source))
    return _pytest(area.tests[file])


def _collected(area: Area, scratch: Path, answer: Callable[[Run], None]) -> None:
    from mutation_collected import Collected

    tests = dict.fromkeys(test for some in area.tests.values() for test in some)
    _pytest([*tests], Collected(ROOT, area.tests, scratch, answer))


def _pytest(tests: Sequence[str], *plugins: object) -> int:
    import pytest

    options = ("-x", "-q", "-p", "no:cacheprovider")
    there = [test for test in tests if (ROOT / test).exists()]
    return int(pytest.main([*options, *there], plugins=[*plugins]))


if __name__ == "__main__":
    main()
