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
import shutil
import signal
import sys
import tempfile
import time
from collections.abc import Sequence
from functools import cache
from importlib.machinery import ModuleSpec
from pathlib import Path
from types import ModuleType

ROOT = Path(__file__).parents[2]
sys.path.insert(0, str(ROOT))

from mutation_areas import AREAS, Area  # noqa: E402

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
    os.chdir(ROOT)
    _warm(area)
    with tempfile.TemporaryDirectory() as scratch:
        _answer(area, Path(scratch))


def _answer(area: Area, scratch: Path) -> None:
    usual_s: dict[str, float] = {}
    for line in sys.stdin:
        order = json.loads(line)
        file, source = order["file"], order["source"]
        if file not in usual_s:
            begun, as_it_is = time.monotonic(), (ROOT / file).read_text(encoding="utf-8")
            whole = _tried(area, file, as_it_is, 600.0, scratch)
            usual_s[file] = time.monotonic() - begun
            if whole != "survived":
                print(json.dumps({"broken": file}), flush=True)
                return
        answer = _tried(area, file, source, usual_s[file] * 4 + _PATIENCE_S, scratch)
        print(json.dumps({"answer": answer}), flush=True)


def _warm(area: Area) -> None:
    os.environ["PYTEST_DISABLE_PLUGIN_AUTOLOAD"] = "1"  # they take longer than the tests
    for name in (*_ALWAYS, *area.warm):
        importlib.import_module(name)
    if area.warm_grammar:
        from voicelog.config import grammar

        grammar.load_grammar = cache(grammar.load_grammar)
        grammar.load_grammar()


def _tried(area: Area, file: str, source: str, patience_s: float, scratch: Path) -> str:
    child = os.fork()
    if child == 0:
        try:
            os.setsid()
            os._exit(_outcome(file, source, area.tests[file], scratch))
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


def _outcome(file: str, source: str, tests: Sequence[str], scratch: Path) -> int:
    """The exit status of the tests: 0 where all of them passed."""
    nowhere = os.open(os.devnull, os.O_WRONLY)
    os.dup2(nowhere, 1)
    os.dup2(nowhere, 2)
    if file.endswith(".py"):
        name = file.removesuffix(".py").replace("/", ".")
        sys.meta_path.insert(0, Instead(name, ROOT / file, source))
    else:
        _put_data(file, source, scratch)
    import pytest

    there = [test for test in tests if (ROOT / test).exists()]
    return int(pytest.main(["-x", "-q", "-p", "no:cacheprovider", *there]))


def _put_data(file: str, source: str, scratch: Path) -> None:
    """A grammar folder in which one file is another."""
    shutil.copytree(ROOT / "grammar", scratch, dirs_exist_ok=True)
    (scratch / Path(file).relative_to("grammar")).write_text(source, encoding="utf-8")
    for module in [*sys.modules.values()]:
        if hasattr(module, "grammar_dir"):
            module.grammar_dir = lambda: scratch


if __name__ == "__main__":
    main()
