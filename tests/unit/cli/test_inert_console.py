"""The last gate before a terminal."""

from __future__ import annotations

import pytest
from rich.table import Table
from rich.text import Text

from voicelog.cli.inert_console import inert_console

HARM = "\x1b]0;owned\x07\x9b2J\u202egnp\u200b"


@pytest.mark.parametrize("shown", [HARM, Text(HARM), Text.assemble(("x", "bold"), HARM)])
def test_what_was_forgotten_elsewhere_shows_a_question_mark(
    shown: object, capsys: pytest.CaptureFixture[str]
) -> None:
    """Plain text and styled text; lines stay lines."""
    inert_console().print("one\n", shown, markup=False)
    out = capsys.readouterr().out
    assert out.replace("\n", "").isprintable()
    assert out.startswith("one\n")
    assert "?]0;owned" in out


def test_a_table_passes_it_too(capsys: pytest.CaptureFixture[str]) -> None:
    """Whatever is laid out before it is text."""
    table = Table("head")
    table.add_row(HARM)
    inert_console().print(table)
    assert capsys.readouterr().out.replace("\n", "").isprintable()


def test_colours_are_left(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """They are the program's own."""
    monkeypatch.setenv("FORCE_COLOR", "1")
    monkeypatch.delenv("NO_COLOR", raising=False)
    inert_console().print(Text(f"red{HARM}", style="red"))
    out = capsys.readouterr().out
    assert out.startswith("\x1b[31mred?]0;")
    assert out.rstrip("\n").endswith("\x1b[0m")
