"""``voicelog manual``: one page that says what ``--help`` says, in a form that man takes."""

from __future__ import annotations

import re
import shutil
import subprocess
from pathlib import Path

import click
import pytest
from click.testing import CliRunner

from voicelog.cli.main import cli
from voicelog.cli.manual import page_lines
from voicelog.cli.topics import topics

ROOT = click.Context(cli, info_name="voicelog")


@pytest.fixture(scope="module")
def page() -> list[str]:
    """The page."""
    return list(page_lines(ROOT))


def test_every_command_has_its_part_with_its_flags(page: list[str]) -> None:
    """In the order of the list of commands, those of groups within."""
    heads = [line.replace(r"\-", "-") for line in page if line.startswith(".SS voicelog")]
    parts = [head.split()[2] for head in heads]
    assert list(dict.fromkeys(parts)) == list(cli.list_commands(ROOT))
    text = "\n".join(page).replace(r"\-", "-")
    for flag in ("--push-to-talk", "--since", "--dry-run", "--paper"):
        assert f"{flag} " in text or f"{flag}," in text


def test_topics_are_told(page: list[str]) -> None:
    """The guide can be found from the page."""
    assert all(rf"\fB{name.replace('-', chr(92) + '-')}\fR" in page for name in topics())


def test_no_line_is_taken_for_an_order(page: list[str]) -> None:
    """A line of text that begins with a dot would vanish: only requests that are meant are there."""
    requests = {line.split()[0] for line in page if line.startswith((".", "'"))}
    assert requests == {".TH", ".SH", ".SS", ".PP", ".TP", ".nf", ".fi"}
    assert not any("\n" in line for line in page)


def test_groff_sets_it_without_a_warning(page: list[str]) -> None:
    """Where groff is: every command's name is in what it sets."""
    if (groff := shutil.which("groff")) is None:
        return
    done = subprocess.run(
        [groff, "-man", "-Tutf8", "-ww", "-P-c"], input="\n".join(page) + "\n", capture_output=True, text=True,
        check=True, timeout=60,
    )  # fmt: skip
    assert done.stderr == ""
    shown = re.sub(r".\x08", "", done.stdout)
    assert all(f"voicelog {name}" in shown for name in cli.list_commands(ROOT))


def test_it_is_written_where_it_is_wanted(tmp_path: Path) -> None:
    """To a file, or to standard output: the same."""
    file = tmp_path / "voicelog.1"
    told = CliRunner().invoke(cli, ["manual", "-o", str(file)], prog_name="voicelog")
    assert told.output == f"Wrote {file}\n"
    shown = CliRunner().invoke(cli, ["manual"], prog_name="voicelog")
    assert file.read_text(encoding="utf-8") == shown.output
