"""``voicelog completion``: the scripts do complete, in every shell that is here."""

from __future__ import annotations

import shutil
import subprocess
import sys
from pathlib import Path

import click
import pytest
from click.testing import CliRunner

from voicelog.cli.completion import SHELLS, logs_begun
from voicelog.cli.main import cli
from voicelog.journal.naming import JOURNAL

PROGRAM = Path(sys.executable).with_name("voicelog")
BASH = """
source <(voicelog completion bash)
tried() { COMPREPLY=(); COMP_WORDS=("$@"); COMP_CWORD=$(($# - 1)); _voicelog_completion voicelog; echo "${COMPREPLY[*]}"; }
tried voicelog ex
tried voicelog export la
tried voicelog export last --outp
tried voicelog help glo
tried voicelog words pa
"""


@pytest.mark.parametrize("shell", SHELLS)
def test_each_shell_gets_its_script(shell: str) -> None:
    """It names the program and asks it by the variable."""
    script = CliRunner().invoke(cli, ["completion", shell], prog_name="voicelog")
    assert script.exit_code == 0
    assert f"_VOICELOG_COMPLETE={shell}_complete" in script.output


def test_bash_completes_commands_logs_flags_and_topics(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """By the script itself, in a real bash 4.4 or newer; elsewhere click's own tests have to do."""
    if (bash := shutil.which("bash")) is None:
        return
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path))
    monkeypatch.setenv("XDG_CONFIG_HOME", str(tmp_path))
    monkeypatch.setenv("PATH", f"{PROGRAM.parent}:/usr/bin:/bin")
    told = subprocess.run(
        [bash, "--norc", "-c", BASH], capture_output=True, text=True, check=True, timeout=120
    )
    assert told.stdout.split("\n")[:5] == ["export", "last", "--output", "glossary", "page"]


def test_logs_are_offered_by_their_folders(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The newest first, and any folder where none begins so."""
    monkeypatch.setenv("VOICELOG_INTO", str(tmp_path))
    for name in ("20260314T080530Z", "20260315T080530Z-pickup"):
        (tmp_path / name).mkdir()
        (tmp_path / name / JOURNAL).touch()
    (tmp_path / "pictures").mkdir()
    context, param = click.Context(cli), click.Argument(["log"])
    offered = [item.value for item in logs_begun(context, param, "")]
    assert offered == [
        "last", str(tmp_path / "20260315T080530Z-pickup"), str(tmp_path / "20260314T080530Z"),
    ]  # fmt: skip
    (other,) = logs_begun(context, param, "else")
    assert (other.value, other.type) == ("else", "dir")
