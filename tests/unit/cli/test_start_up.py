"""``--help`` and ``--version`` answer at once: they load next to nothing, and still tell everything."""

from __future__ import annotations

import subprocess
import sys

import click
import pytest
from click.testing import CliRunner

from voicelog import __version__
from voicelog.cli.main import _LAZY, cli
from voicelog.export.version import CONTRACT
from voicelog.recognise.moonshine_model import ADAPTED_MODEL

HEAVY = {
    "numpy",
    "onnxruntime",
    "pydantic",
    "rich",
    "textual",
    "vosk",
    "soundfile",
    "sounddevice",
    "jinja2",
    "PIL",
}
RUN = """
import sys
from voicelog.cli.main import run
try:
    run([{flag!r}])
finally:
    print("LOADED", *sorted(sys.modules))
"""


def _loaded(flag: str) -> set[str]:
    """What a fresh process has loaded when it has answered."""
    done = subprocess.run(
        [sys.executable, "-c", RUN.format(flag=flag)], capture_output=True, text=True, check=True
    )
    return set(done.stdout.rpartition("LOADED")[2].split())


@pytest.mark.parametrize("flag", ["--help", "--version"])
def test_nothing_heavy_is_loaded(flag: str) -> None:
    """That, and not a clock that other work slows down, keeps the start short."""
    assert _loaded(flag) & HEAVY == set()


def test_help_loads_no_command() -> None:
    """What is said of each stands in the list."""
    commands = {f"voicelog.cli.{lazy.module}" for lazy in _LAZY.values()}
    assert _loaded("--help") & commands == set()


def test_every_command_is_listed_in_a_line_that_fits() -> None:
    """The whole sentence within 80 columns, and a command of that name behind it."""
    told = CliRunner().invoke(cli, ["--help"]).output
    listed = told.partition("Commands:\n")[2].splitlines()
    context = click.Context(cli)
    names = cli.list_commands(context)
    assert [line.split()[0] for line in listed] == names
    assert all(len(line) <= 80 and not line.endswith("...") for line in listed)
    for name in names:
        command = cli.get_command(context, name)
        assert command is not None
        assert command.name == name


def test_version_names_ears_with_their_models_and_the_contract() -> None:
    """As every log and document names them."""
    done = CliRunner().invoke(cli, ["--version"])
    assert done.exit_code == 0
    told = done.output.splitlines()
    assert told[0] == f"voicelog {__version__}"
    assert f"documents: contract {CONTRACT}" in told
    assert any(line.startswith(f"ear built-in: {ADAPTED_MODEL} (onnxruntime ") for line in told)
    assert {"ear built-in", "ear vosk", "ear second", "voice built-in"} < {
        line.partition(":")[0] for line in told
    }


def test_version_tells_of_what_is_not_installed(monkeypatch: pytest.MonkeyPatch) -> None:
    """Instead of failing."""
    monkeypatch.setattr("voicelog.cli.versions.RUN_BY", {"built-in": "no-such-package"})
    told = CliRunner().invoke(cli, ["--version"]).output
    assert "(no-such-package is not installed)" in told
