"""DEVELOPERS.md names what there is: every file, folder and name in backquotes is found in the tree."""

from __future__ import annotations

import ast
import re
import tomllib
from collections.abc import Iterator
from functools import cache
from pathlib import Path

ROOT = Path(__file__).parents[3]
PAGE = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
PROJECT = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
PROSE = re.sub(r"^ *```.*?^ *```", "", PAGE, flags=re.DOTALL | re.MULTILINE)
QUOTED = sorted({" ".join(one.split()) for one in re.findall(r"`([^`]+)`", PROSE)})

FILE = r"[\w.…*<>/-]+\.(?:py|toml|md|typ|txt|html|css|tcss|json|jsonl|mjs|sh|yml)"
TOOLS = ("pytest", "venv", "build", "pip", "zipfile")
"""Modules of others that the page runs."""

GIVEN = re.compile(r"\b(?:def|class) (\w+)|^ *(\w+)(?:: [^=\n]+)? = |self\.(\w+)|(\w+): ", re.M)
"""How a Python file gives a name; coarse, because parsing every file takes seconds."""

ELSEWHERE = {"os", "sh", "head", "sha256sum", "utils", "None", "cyclonedx-py", "add_initializer"}
"""Commands and libraries of others, and what the page says there is none of."""

HOMES = ("voicelog", "tests", "grammar", "shared", "audio_samples", ".pictures", ".ci")
"""The folders of the project."""


@cache
def files() -> tuple[str, ...]:
    """Every file of the tree that a page could name, relative to its root."""
    found = [path for home in HOMES for path in (ROOT / home, *(ROOT / home).rglob("*"))]
    found += [path for path in ROOT.iterdir() if path.is_file()]
    return tuple(p.relative_to(ROOT).as_posix() for p in found if "__pycache__" not in p.parts)


def found_by(name: str) -> list[str]:
    """The files and folders that a path of the page may mean; ``…`` and ``<name>`` stand for any name."""
    pattern = re.escape(name.strip("/")).replace(r"\*", "[^/]*").replace("…", "[^/]*")
    pattern = re.sub(r"<\w+>", "[^/]+", pattern)
    return [file for file in files() if re.fullmatch(rf"(?:.+/)?{pattern}", file)]


def paths() -> list[str]:
    """What in the page is a file or a folder."""
    return [one for one in QUOTED if re.fullmatch(FILE, one) or re.fullmatch(r"[\w.<>/-]+/", one)]


def _identifiers(tree: ast.AST) -> Iterator[str]:
    """Every name that is defined, assigned, imported, taken as an argument or given as an attribute."""
    for node in ast.walk(tree):
        match node:
            case ast.FunctionDef(name=name) | ast.AsyncFunctionDef(name=name):
                yield name
            case ast.ClassDef(name=name) | ast.arg(arg=name) | ast.Attribute(attr=name):
                yield name
            case ast.Name(id=name, ctx=ast.Store()) | ast.alias(name=name):
                yield name


@cache
def names_in(file: str) -> frozenset[str]:
    """The names that one Python file gives."""
    return frozenset(_identifiers(ast.parse((ROOT / file).read_bytes())))


@cache
def known() -> frozenset[str]:
    """Every name of the sources, every word of the data files, every package that is needed."""
    sources = [(ROOT / file).read_text("utf-8") for file in files() if file.endswith(".py")]
    named = {name for text in sources for given in GIVEN.findall(text) for name in given if name}
    modules = {Path(file).stem for file in files()} | {Path(file).parent.name for file in files()}
    data = [file for file in files() if file.endswith(".toml")]
    words = {w for f in data for w in re.findall(r"[\w-]+", (ROOT / f).read_text("utf-8"))}
    return frozenset(named | modules | words)


def dotted() -> list[str]:
    """What in the page is a name, with or without what it belongs to."""
    plain = (re.sub(r"(\(\)|\[T\])$", "", one) for one in QUOTED)
    names = [one for one in plain if re.fullmatch(r"[A-Za-z_]\w*(?:\.[A-Za-z_]\w*)*", one)]
    return [one for one in names if not re.fullmatch(FILE, one)]


def beside() -> list[tuple[str, str]]:
    """Names that the page gives with their file: "`Name` of `file.py`", or "`file.py` `Name`"."""
    name, file = r"`(\w+)(?:\.\w+)?`", r"`([\w/.]+\.py)`"
    of = re.findall(rf"{name}\s+(?:of|in)\s+{file}", PROSE)
    before = re.findall(rf"{file}\s+\(?{name}", PROSE)
    return sorted({*of, *((name, file) for file, name in before)})


def commands() -> list[str]:
    """Calls of Python in the page, in prose and in blocks."""
    lines = [one for one in QUOTED if "python" in one]
    for block in re.findall(r"^ *```sh\n(.*?)^ *```", PAGE, flags=re.DOTALL | re.MULTILINE):
        lines += [line.partition("#")[0].strip() for line in block.splitlines()]
    return sorted({line for line in lines if re.search(r"python3? ", line)})


def test_every_file_and_folder_is_there() -> None:
    """Under the root, or in whatever room the sentence is about."""
    assert [path for path in paths() if not found_by(path)] == []


def test_every_name_is_somebodys() -> None:
    """A class, a function, a constant, a key; what stands before a dot is named too."""
    there = known() | ELSEWHERE
    assert [name for name in dotted() if not there.issuperset(name.split("."))] == []


def test_a_name_stands_in_the_file_that_is_named_with_it() -> None:
    """So that a name that moved is told of."""
    moved = [(n, f) for n, f in beside() if not any(n in names_in(one) for one in found_by(f))]
    assert moved == []


def test_commands_call_what_is_there() -> None:
    """A script, a module of this program, or one of a few tools."""
    for line in commands():
        for script in re.findall(r"python3? ([\w./-]+\.py)", line):
            assert (ROOT / script).is_file(), line
        for module in re.findall(r"python3? -m ([\w.]+)", line):
            ours = ROOT / Path(*module.split(".")).with_suffix(".py")
            assert ours.is_file() or module in TOOLS, line


MODULES = {"PIL": "pillow", "hibari": "hibari-tts"}
"""Import names that are not the package's name with underscores."""


def imported(room: str) -> set[str]:
    """The packages that are listed in pyproject.toml and imported by name in a room."""
    extras = PROJECT["optional-dependencies"].values()
    lines = "\n".join((*PROJECT["dependencies"], *(line for extra in extras for line in extra)))
    listed, found = set(re.findall(r"^[\w-]+", lines, flags=re.MULTILINE)), set()
    for file in files():
        if file.startswith(f"voicelog/{room}/") and file.endswith(".py"):
            text = (ROOT / file).read_text("utf-8")
            for module in re.findall(r"^\s*(?:import|from) (\w+)", text, flags=re.MULTILINE):
                found.add(MODULES.get(module, module.replace("_", "-")))
    return found & listed - {"numpy"}


def test_the_map_names_the_packages_of_each_room() -> None:
    """In its last column; what is loaded by name only, faster-whisper, stands there too."""
    rows = re.findall(r"^\| `voicelog/(\w+)/` \|.*\| ([^|]+) \|$", PAGE, flags=re.MULTILINE)
    assert len(rows) > 14
    for room, told in rows:
        named = set(re.findall(r"[a-z][\w-]+", re.sub(r"\(.*?\)", "", told)))
        named -= {"standard", "library", "only", "faster-whisper"}
        assert named == imported(room), room


def test_every_decision_has_its_day_and_a_reason() -> None:
    """Newest last, so that what holds now is read last."""
    part = PAGE[PAGE.index("## Decisions") :].split("\n## ")[0]
    entries = [one for one in part.split("\n\n")[1:] if one.strip()]
    days = [re.match(r"\*\*(\d{4}-\d\d-\d\d) · [^*]+\.\*\*\s+\S", one) for one in entries]
    assert None not in days, [one[:60] for one, day in zip(entries, days, strict=True) if not day]
    dated = [day[1] for day in days if day]
    assert dated == sorted(dated)


def test_the_page_is_read_at_all() -> None:
    """The tests above hold something."""
    assert len(paths()) > 150
    assert len(dotted()) > 80
    assert len(beside()) > 20
    assert PROSE.count("`") % 2 == 0, "a backquote is lost, and every later one stands for another"
