"""Nothing that was read is ever run: what the program's own text may not say."""

from __future__ import annotations

import ast
from collections.abc import Iterator, Mapping
from functools import cache
from pathlib import Path

import pytest

VOICELOG = Path(__file__).parents[3] / "voicelog"

CALLS = frozenset((
    "eval", "exec", "compile", "__import__", "breakpoint", "os.system", "os.popen", "os.startfile",
    "os.execv", "os.execve", "os.execvp", "os.spawnl", "os.spawnv", "yaml.load", "yaml.unsafe_load",
    "tempfile.mktemp", "subprocess.getoutput", "subprocess.getstatusoutput",
    "torch.load", "joblib.load", "pty.spawn", "builtins.eval", "builtins.exec",
))  # fmt: skip
"""They run text or bytes that were read, or hand them to a shell."""

MODULES = frozenset((
    "pickle", "cPickle", "dill", "cloudpickle", "marshal", "shelve", "dbm", "joblib", "yaml", "xml",
    "lxml", "code", "codeop", "imp", "pty", "telnetlib", "xmlrpc", "http", "urllib", "ftplib", "smtplib",
    "socketserver", "requests", "httpx", "aiohttp", "websockets", "ssl",
))  # fmt: skip
"""They make objects of bytes, read XML with its bombs, or talk to a network."""

NEEDED = {"recognise/models.py": {"socket"}}
"""Modules that may be imported all the same: fetching a model, which somebody asked for by name."""


@cache
def _trees() -> Mapping[str, ast.Module]:
    """Every module of the program by its path."""
    return {
        path.relative_to(VOICELOG).as_posix(): ast.parse(path.read_bytes())
        for path in sorted(VOICELOG.rglob("*.py"))
    }


def _dotted(node: ast.expr) -> str:
    """``os.system`` for the expression; empty for what is no name."""
    if isinstance(node, ast.Name):
        return node.id
    if isinstance(node, ast.Attribute):
        return f"{_dotted(node.value)}.{node.attr}"
    return ""


def _imported(tree: ast.AST) -> Iterator[str]:
    for node in ast.walk(tree):
        if isinstance(node, ast.Import):
            yield from (name.name.partition(".")[0] for name in node.names)
        elif isinstance(node, ast.ImportFrom) and node.module and not node.level:
            yield node.module.partition(".")[0]


def _wrong(tree: ast.AST) -> Iterator[str]:
    for node in ast.walk(tree):
        if not isinstance(node, ast.Call):
            continue
        called = _dotted(node.func)
        if called in CALLS or called.rpartition(".")[2] in ("loads_pickle", "from_pickle"):
            yield f"line {node.lineno}: {called}()"
        named = {word.arg: word.value for word in node.keywords}
        for name in ("shell", "allow_pickle"):
            if name in named and not _is_false(named[name]):
                yield f"line {node.lineno}: {name}="
        if called.startswith("subprocess.") and node.args and not _is_list(node.args[0]):
            yield f"line {node.lineno}: a command that is no list"


def _is_false(node: ast.expr) -> bool:
    return isinstance(node, ast.Constant) and node.value is False


def _is_list(node: ast.expr) -> bool:
    """A list, or a name: what it stands for mypy knows to be a sequence."""
    return isinstance(node, ast.List | ast.Tuple | ast.Name | ast.Attribute)


def test_the_program_is_looked_through() -> None:
    """All of it, so that the tests below say something."""
    assert len(_trees()) > 500


@pytest.mark.parametrize(
    "text",
    ["eval(x)", "os.system(x)", "subprocess.run(x, shell=True)", 'subprocess.run(f"ls {x}")',
     "np.load(x, allow_pickle=True)"],
)  # fmt: skip
def test_the_check_would_notice(text: str) -> None:
    """One of each kind."""
    assert list(_wrong(ast.parse(text)))


def test_nothing_that_was_read_is_run() -> None:
    """No eval, no exec, no shell, no pickle; commands are lists of words."""
    found = {name: wrong for name, tree in _trees().items() if (wrong := list(_wrong(tree)))}
    assert found == {}


def test_no_module_that_makes_objects_of_bytes_or_talks_is_imported() -> None:
    """Vosk fetches a model by itself when somebody asks for one; only its time-out is set here."""
    unwanted = MODULES | {"socket"}
    found = {
        name: used for name, tree in _trees().items() if (used := {*_imported(tree)} & unwanted)
    }
    assert found == NEEDED
