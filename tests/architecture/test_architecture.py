"""How the program is built: who may reach the disk and the clock, no circles, nothing that is not used.

import-linter holds which room may import which; this holds what it cannot see.
"""

from __future__ import annotations

import ast
from pathlib import Path

import pytest

from tests.architecture.imports import circle_in, import_graph
from tests.architecture.sources import room_of, trees
from tests.architecture.touches import touches
from tests.architecture.unused import unused

EDGES = {
    "domain": "",
    "dialogue": "",
    "findings": "",
    "review": "",
    "report": "",
    "yardstick": "",
    "interpret": "everyday pronunciations",
    "capture": "microphone pretend pretend_stream source stream",
    "recognise": "adapted ear_process ear_worker fitted model_files models moonshine_engine moonshine_model "
    "vosk_cost vosk_models whisper_model",
    "journal": "append_file chain clock grammar joined journal lock naming opening own_files photos "
    "storage verify vouching",
    "export": "heic_trial heic_worker json_file page_templates pdf pictures words_page",
    "announce": "announcer built_in_voice espeak_voice player recording",
    "config": "data document layers learned_files places reference settings short_cut toml_file writing",
}
"""In each step room, and in ``domain``, the modules that may ask the disk, the clock or another program;
all others get what they need as arguments, so that their tests need neither."""

NOT_NAMED = {
    "voicelog.capture.pretend: give_back": "pretended microphones are for tests and benches",
    "voicelog.capture.pretend: stall": "pretended microphones are for tests and benches",
    "voicelog.cli.inert_console: process_renderables": "rich calls it",
    "voicelog.domain.comparison: CHANGES": "names the values that a text may have",
    "voicelog.export.contract: field_title_should_be_set": "pydantic calls it",
    "voicelog.interpret.phonemes: SYMBOLS": "names the characters that a text may have",
    "voicelog.recognise.models: download_progress_hook": "Vosk calls it",
    "voicelog.tui.palette: discover": "Textual calls it",
    "voicelog.tui.posts: can_replace": "Textual calls it",
}
"""What nothing in the program names, and why it is there all the same."""


@pytest.mark.parametrize("room", EDGES)
def test_only_the_edge_of_a_room_reaches_outside(room: str) -> None:
    """And every module that is named as an edge is one, so that the list stays short."""
    reached = {
        module.partition(f"voicelog.{room}.")[2]: touches(tree)
        for module, tree in trees().items()
        if room_of(module) == room
    }
    reaching = {module: what for module, what in reached.items() if what}
    allowed = set(EDGES[room].split())
    assert {module: what for module, what in reaching.items() if module not in allowed} == {}
    assert allowed <= reaching.keys(), "no longer an edge: take it off the list"


def test_loading_a_module_never_comes_round_to_it() -> None:
    """No circle among the imports that are made when modules are loaded."""
    assert circle_in(import_graph(trees(), late=False)) == []


def test_rooms_never_lean_on_each_other_in_a_circle() -> None:
    """Not even by imports within functions."""
    rooms: dict[str, set[str]] = {}
    for module, targets in import_graph(trees(), late=True).items():
        here = room_of(module)
        rooms.setdefault(here, set()).update(
            room_of(target) for target in targets if room_of(target) != here
        )
    assert rooms.pop("voicelog") == set()  # its version is told everywhere
    assert circle_in(rooms) == []


def test_nothing_is_defined_that_nothing_uses() -> None:
    """What only tests use is not used."""
    found = unused(trees())
    assert found - NOT_NAMED.keys() == set()
    assert NOT_NAMED.keys() - found == set(), "used by now: take it off the list"


@pytest.mark.parametrize(
    ("text", "found"),
    [
        ("import subprocess", {"subprocess"}),
        ("from urllib.request import urlopen", {"urllib.request"}),
        ("open('x')", {"open"}),
        ("Path('x').read_text()", {".read_text"}),
        ("os.remove('x')", {"os.remove"}),
        ("from os import remove", {"os.remove"}),
        ("os.fspath(p)", set()),
        ("at = datetime.now()", {"datetime.now"}),
        ("from time import sleep", {"time.sleep"}),
        ("clock = time.monotonic", {"time.monotonic"}),
        ("def f(open): return text.replace('a', 'b')", set()),
    ],
)
def test_reaching_outside_is_seen(text: str, found: set[str]) -> None:
    """The reader of syntax finds what it is meant to find."""
    assert touches(ast.parse(text)) == found


def test_circles_and_leftovers_are_seen(tmp_path: Path) -> None:
    """Also behind a package's own imports; names in short texts count as uses."""
    package = tmp_path / "some"
    package.mkdir()
    (package / "__init__.py").write_text('"""A package."""\n')
    (package / "one.py").write_text("from some import two\n\n\ndef left(): ...\n")
    (package / "two.py").write_text("def f():\n    from some.one import g\n\n\ng = f()\nh = 'g'\n")
    modules = trees(package)
    assert circle_in(import_graph(modules, late=False)) == []
    assert circle_in(import_graph(modules, late=True)) == ["some.one", "some.two", "some.one"]
    assert unused(modules) == {"some.one: left", "some.two: h"}
