"""What a person's mistake looks like: one message with the next step, never a stack trace."""

from __future__ import annotations

import errno
import io
import json
import sys
from collections.abc import Iterator
from pathlib import Path

import click
import pytest

from voicelog.cli.main import cli, run
from voicelog.errors import InputFault, StorageFault, refusal

LONG = "a" * 300
"""Longer than any file's name may be."""
OF_LOGS = ("review", "amend", "sign", "why", "work", "photos", "vehicle", "export", "verify", "recover",
           "erase", "compare", "relisten")  # fmt: skip
MORE = {
    "review": ["--plain"], "amend": ["--undo"], "erase": ["--all-sound", "--yes"], "compare": ["last"],
    "sign": ["--list"],
}  # fmt: skip
NO_LOGS = ("nothing-here", "folder", "file", "loop", "file/under", LONG, "", "bad\udcffname")


@pytest.fixture(autouse=True)
def own_folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A working folder with what is no log: a file, an empty folder, a link to itself."""
    for name in ("CONFIG", "DATA", "CACHE"):
        monkeypatch.setenv(f"XDG_{name}_HOME", str(tmp_path / "own"))
    (tmp_path / "folder").mkdir()
    (tmp_path / "file").write_bytes(bytes(range(256)))
    (tmp_path / "loop").symlink_to("loop")
    monkeypatch.chdir(tmp_path)


def told(capsys: pytest.CaptureFixture[str], *words: str) -> tuple[object, str]:
    """The exit code of a command line, and what it says."""
    with pytest.raises(SystemExit) as left:
        run(words)
    shown = capsys.readouterr()
    return left.value.code, shown.out + shown.err


def check(code: object, said: str) -> None:
    """One of the documented codes, short, without the system's own numbers and names."""
    assert code in (2, 3, 5, 7), said
    assert said.startswith("voicelog: ")
    assert len(said.splitlines()) <= 3
    assert len(said) < 500
    assert not [word for word in ("Traceback", "Errno", "Error(", ".py") if word in said]


@pytest.mark.parametrize("name", OF_LOGS)
@pytest.mark.parametrize("log", NO_LOGS, ids=lambda log: log[:12] or "empty")
def test_what_is_no_log_is_named_as_such(
    name: str, log: str, capsys: pytest.CaptureFixture[str]
) -> None:
    """Every command on a log, with everything that a log is not."""
    check(*told(capsys, name, log, *MORE.get(name, [])))


@pytest.mark.parametrize(
    "words",
    [
        ("hear", LONG), ("hear", "folder"), ("hear", "file"), ("hear", "loop"), ("list", "file"),
        ("read", "x", "--map", LONG), ("read", "x", "--map", "loop.toml"), ("read", "x", "--grammar", LONG),
        ("read", "x", "--words", "folder"), ("read", "x", "--into", "file"), ("words", "page", "-o", "folder.html/x"),
        ("manual", "-o", "folder"), ("sounds", "--write", "file"), ("exprot",), ("words", "chekc"), ("model", "gte"),
    ],
    ids=lambda words: " ".join(words)[:30],
)  # fmt: skip
def test_wrong_files_and_wrong_names_are_told(
    words: tuple[str, ...], capsys: pytest.CaptureFixture[str]
) -> None:
    """A folder for a file, a file for a folder, a name that no disk takes, a command that is none."""
    code, said = told(capsys, *words)
    assert code in (2, 3, 4, 7), said
    assert not [word for word in ("Traceback", "Errno", "Error(") if word in said]
    assert any(line.startswith("voicelog: ") for line in said.splitlines())


def test_a_near_command_is_named(capsys: pytest.CaptureFixture[str]) -> None:
    """A typing mistake costs one more look."""
    code, said = told(capsys, "exprot", "last")
    assert (code, "did you mean 'export'?" in said) == (2, True)


@pytest.mark.parametrize(
    ("number", "kind"),
    [(errno.ENAMETOOLONG, InputFault), (errno.ELOOP, InputFault), (errno.ENOSPC, StorageFault),
     (errno.EIO, StorageFault)],
)  # fmt: skip
def test_the_system_is_quoted_without_its_number(number: int, kind: type[Exception]) -> None:
    """A path that cannot be meant is an input; what the disk refuses is told as that."""
    fault = refusal(OSError(number, "No", "x" * 400))
    assert type(fault) is kind
    assert str(number) not in str(fault)
    assert len(str(fault)) < 200


class _Old(io.TextIOWrapper):
    """Standard output of an old console, or of a pipe on some systems."""

    def __init__(self) -> None:
        super().__init__(io.BytesIO(), encoding="ascii", errors="strict")

    @property
    def written(self) -> bytes:
        """What came out."""
        self.flush()
        assert isinstance(self.buffer, io.BytesIO)
        return self.buffer.getvalue()


@pytest.mark.parametrize("more", [[], ["--json"]])
def test_no_character_stops_a_command(more: list[str], monkeypatch: pytest.MonkeyPatch) -> None:
    """Where the output is not UTF-8, what cannot be shown becomes "?"; JSON is UTF-8 all the same."""
    old = _Old()
    with monkeypatch.context() as console:
        console.setattr(sys, "stdout", old)
        run(["read", "left front rail, surface rust, Müller said so", *more])
        said = old.written
    if more:
        assert json.loads(said.decode("utf-8"))["entries"]
    else:
        assert b"front rail" in said
        assert "?" in said.decode("ascii")


def _helps() -> Iterator[tuple[str, str]]:
    """Every command with its help at 80 columns."""
    waiting = [click.Context(cli, info_name="voicelog", terminal_width=80)]
    for context in waiting:
        yield context.command_path, context.get_help()
        group = context.command
        for name in group.list_commands(context) if isinstance(group, click.Group) else ():
            inner = group.get_command(context, name)  # type: ignore[attr-defined]
            waiting.append(click.Context(inner, info_name=name, parent=context, terminal_width=80))


@pytest.mark.parametrize(("path", "text"), _helps(), ids=lambda part: part.split("\n")[0][:40])
def test_help_fits_a_terminal_and_shows_how(path: str, text: str) -> None:
    """80 columns, and for every command with arguments a line that can be typed as it stands."""
    assert max(map(len, text.splitlines())) <= 80
    usage = text.splitlines()[0]
    if (
        usage.rstrip().endswith(("LOG", "NEW", "...", "SHELL", "FOLDER]"))
        and "COMMAND" not in usage
    ):
        assert f"  {path}" in text.partition("\n")[2], path
