"""Every option and argument of every command with values that nobody should give.

The commands are found by looking, so that a new one, or a new option, is tried without being entered
here. What is asked of each: one of the documented exit codes, a line or two, no part of the program
named in them, and that nothing escapes.

An option that many commands share is tried with one of them, and each with one bad value, another
one from option to option. ``VOICELOG_EVERY_MISTAKE=1`` tries all values and flags with all commands,
for some minutes.
"""

from __future__ import annotations

import io
import os
import re
import shutil
import sys
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import click
import pytest

from voicelog.cli.main import cli, run
from voicelog.config.settings import Settings
from voicelog.errors import EarFault
from voicelog.runtime.opening import open_reading

CODES = {0, 2, 3, 4, 5, 6, 7, 8}
"""As the README documents them, without those of a process that is ended from outside."""
HOSTILE = "\x1b]0;x\x07\x1b[31m‮[red]%s{}\x00"
TEXTS = ("", HOSTILE, "e99.9", "x=y", "=", "-1", "..")
PATHS = ("nothing-here", "folder", "file", "empty", "loop", "file/under", "a" * 300)
NUMBERS = ("x", "", "nan", "-1", "1e400", "99999999999999999999")
GIVEN = {
    "log": "LOG", "old": "LOG", "new": "LOG", "text": "left sill, hole", "shell": "bash",
    "audio": "file",
}  # fmt: skip
"""What stands for an argument that is not the one tried."""
EVERY = "VOICELOG_EVERY_MISTAKE" in os.environ
_DEFECT = re.compile(
    r"Traceback|Errno|\w(?:Error|Exception|Warning)\b|\.py\b|<\w+ object|0x[0-9a-f]{6}"
)


@dataclass(frozen=True)
class Tried:
    """One option or argument.

    Args:
        path: of the command.
        command: itself.
        parameter: the one that is given badly; None for none, with everything else left out.
    """

    path: tuple[str, ...]
    command: click.Command
    parameter: click.Parameter | None

    @property
    def name(self) -> str:
        """As pytest shows it."""
        tried = self.parameter.name if self.parameter is not None else "nothing"
        return f"{' '.join(self.path)}: {tried}"

    def values(self) -> Iterator[str | None]:
        """Bad ones of its type; None for a flag."""
        match getattr(self.parameter, "type", None):
            case click.types.BoolParamType():
                yield None
            case click.Choice():
                yield from ("", HOSTILE)
            case click.Path():
                yield from PATHS
            case click.types.FloatParamType() | click.IntRange() | click.FloatRange():
                yield from NUMBERS
            case click.ParamType():
                yield from TEXTS

    def line(self, value: str | None) -> list[str]:
        """The command line."""
        words, options = list(self.path), list[str]()
        for parameter in self.command.params:
            mine = parameter is self.parameter
            if isinstance(parameter, click.Argument) and (mine or parameter.required):
                words += [value or ""] if mine else [GIVEN.get(str(parameter.name), "folder")]
            elif mine and value is None:
                options += [parameter.opts[0]]
            elif mine:
                options += [f"{parameter.opts[-1]}={value}"]
        return [*words[: len(self.path)], *options, "--", *words[len(self.path) :]]


def commands(
    group: click.Group, path: tuple[str, ...] = ()
) -> Iterator[tuple[tuple[str, ...], click.Command]]:
    """Every command that does something, with the words that call it."""
    context = click.Context(group)
    for name in group.list_commands(context):
        command = group.get_command(context, name)
        assert command is not None
        if isinstance(command, click.Group):
            yield from commands(command, (*path, name))
        else:
            yield (*path, name), command


def every() -> Iterator[Tried]:
    """Each command with nothing, then each of its parameters; unless all are asked for, those that
    another command had already are left out.
    """
    known = set[tuple[str, ...]]()
    for path, command in commands(cli):
        yield Tried(path, command, None)
        for parameter in command.params:
            same = (*parameter.opts, type(parameter.type).__name__, getattr(parameter, "help", ""))
            flag = isinstance(parameter.type, click.types.BoolParamType)
            if EVERY or (same not in known and not flag) or isinstance(parameter, click.Argument):
                yield Tried(path, command, parameter)
            known.add(same)


TRIED = list(every())


@pytest.fixture(scope="module")
def log(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A small inspection."""
    parent = tmp_path_factory.mktemp("logs")
    with open_reading(Settings(into=parent), keep=True, subject="pickup 12") as session:
        session.read("left front rail, surface rust, metal is firm", at_s=0.0)
        session.read("left sill, hole about 25 millimetres", at_s=5.0)
        session.close("finished")
        assert session.folder is not None
    return session.folder


@pytest.fixture(autouse=True)
def desk(log: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A folder with a log and with what is none; no sound card, no model, no network, no keyboard."""
    for name in ("CONFIG", "DATA"):
        monkeypatch.setenv(f"XDG_{name}_HOME", str(tmp_path / "own"))
    monkeypatch.chdir(tmp_path)
    (tmp_path / "folder").mkdir()
    (tmp_path / "file").write_bytes(bytes(range(256)))
    (tmp_path / "empty").touch()
    (tmp_path / "loop").symlink_to("loop")
    shutil.copytree(log, tmp_path / "LOG")
    monkeypatch.setitem(sys.modules, "sounddevice", None)
    for place in ("runtime.words", "recognise.lookup"):  # first whoever takes it from there
        monkeypatch.setattr(f"voicelog.{place}.open_ear", _none)
    monkeypatch.setattr("voicelog.recognise.models._fetch", _unreachable)
    monkeypatch.setattr("voicelog.runtime.words.clashes", lambda *_: ())  # takes seconds
    monkeypatch.setattr(sys, "stdin", io.TextIOWrapper(io.BytesIO()))


def _none(*_: object, **__: object) -> None:
    raise EarFault("No ear is ready", "Install one")


def _unreachable(*_: object) -> None:
    raise OSError(101, "Network is unreachable")


@pytest.mark.parametrize("number", range(len(TRIED)), ids=lambda number: TRIED[number].name)
def test_a_mistake_is_told_in_a_line_or_two(number: int, capfd: pytest.CaptureFixture[str]) -> None:
    """And nothing escapes that Python would print."""
    tried = TRIED[number]
    values = [*tried.values()] if tried.parameter is not None else [""]
    for value in values if EVERY else values[number % len(values) :][:1]:
        line = tried.line(value)
        code: object = 0
        try:
            run(line)
        except SystemExit as left:
            code = left.code or 0
        shown = capfd.readouterr()
        assert code in CODES, (line, code, shown.err)
        assert not _DEFECT.search(shown.err), (line, shown.err)
        assert not set(shown.err) & set("\x07\x1b\x00‮"), (line, shown.err)
        if code:
            _check_message(line, shown.err)


def _check_message(line: list[str], said: str) -> None:
    """Short, by name, and with what to do next."""
    told = [one for one in said.splitlines() if one.strip()]
    assert told, line
    if told[0].startswith("Usage: "):  # a command with nothing given shows its own help
        return
    assert any("voicelog: " in one for one in told), (line, said)  # a question may stand before it
    assert len(told) <= 3, (line, said)
    assert max(map(len, told)) <= 600, (line, said)
    next_step = said.removeprefix("voicelog: ")
    assert any(sign in next_step for sign in (". ", ": ", "--help")), (line, said)
