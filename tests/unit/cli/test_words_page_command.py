"""``voicelog words page`` as a person uses it."""

from __future__ import annotations

from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from voicelog.cli.main import cli
from voicelog.errors import StorageFault, UsageFault


@pytest.fixture(autouse=True)
def no_settings_of_the_tester(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Whatever the tester has set plays no part."""
    monkeypatch.setenv("XDG_CONFIG_HOME", str(tmp_path))


def page(*words: str) -> Result:
    """The command with these words."""
    return CliRunner().invoke(cli, ["words", "page", *words], prog_name="voicelog")


def test_the_ending_says_which_form(tmp_path: Path) -> None:
    """HTML and PDF; without a file HTML goes to standard output."""
    for name, begins in (("w.html", b"<!DOCTYPE html>"), ("w.PDF", b"%PDF-")):
        told = page("-o", str(tmp_path / name))
        assert told.output == f"Wrote {tmp_path / name}\n"
        assert (tmp_path / name).read_bytes().startswith(begins)
    assert page().output.startswith("<!DOCTYPE html>")


@pytest.mark.parametrize(
    ("words", "fault"),
    [
        (("-o", "w.doc"), UsageFault),
        (("--paper", "a4"), UsageFault),
        (("-o", "no-such-folder/w.html"), StorageFault),
        (("--map", "ladder-fram"), UsageFault),
    ],
)
def test_what_cannot_be_done_is_refused_with_the_next_step(
    words: tuple[str, ...], fault: type[Exception], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Before anything is written."""
    monkeypatch.chdir(tmp_path)
    assert isinstance(page(*words).exception, fault)
    assert not [path for path in tmp_path.iterdir() if path.suffix]
