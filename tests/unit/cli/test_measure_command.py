"""``voicelog measure`` as a person and a shell see it, with an ear that is told what to hear."""

from __future__ import annotations

import json
import tomllib
from collections.abc import Callable
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from tests.unit.runtime.told_recordings import SHEET, ToldEar, put
from voicelog.cli.main import cli
from voicelog.errors import InputFault, UsageFault, VoicelogError

Call = Callable[..., Result]
RIGHT = [item.text for item in SHEET.items]


@pytest.fixture
def call(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Call:
    """Runs it; ``heard`` is what the ear will hear."""
    monkeypatch.chdir(tmp_path)

    def run(*words: str, heard: list[str] | None = None) -> Result:
        ear = ToldEar(heard or [])
        monkeypatch.setattr("voicelog.runtime.opening.open_the_ear", lambda *_: ear)
        return CliRunner().invoke(cli, ["measure", *words], prog_name="voicelog")

    return run


def test_a_sheet_is_written_with_all_that_is_filled_in(call: Call, tmp_path: Path) -> None:
    """The form is TOML as it stands; every line of the answer names a file that is there."""
    done = call("--sheet", "recordings", "--count", "12", "--seed", "3")
    assert done.exit_code == 0, done.output
    assert "A sheet of 12 sentences for the map ladder-frame, seed 3" in done.output
    for name in ("sheet.html", "sheet.json", "s01/about.toml"):
        assert (tmp_path / "recordings" / name).exists()
        assert str(Path("recordings") / name) in done.output
    form = tomllib.loads((tmp_path / "recordings/s01/about.toml").read_text("utf-8"))
    assert form["first_language"] == ""
    sheet = json.loads((tmp_path / "recordings/sheet.json").read_text("utf-8"))
    assert len(sheet["items"]) == 12


def test_a_sheet_is_never_put_under_recordings_of_another(call: Call, tmp_path: Path) -> None:
    """Its numbers would mean other sentences; the same sheet again is fine, and a form is kept."""
    assert call("--sheet", "recordings").exit_code == 0
    (tmp_path / "recordings/s01/about.toml").write_text('accent = "mine"\n')
    (tmp_path / "recordings/s01/quiet/01.wav").touch()
    assert call("--sheet", "recordings").exit_code == 0
    assert "mine" in (tmp_path / "recordings/s01/about.toml").read_text()
    refused = call("--sheet", "recordings", "--seed", "2").exception
    assert isinstance(refused, InputFault)
    assert "were not made with this sheet" in str(refused)


def test_what_is_heard_is_told_in_tables(call: Call, tmp_path: Path) -> None:
    """By system, noise, speaker and kind; what is missing, misnamed or damaged a line each."""
    folder = put(tmp_path / "r", "s01/quiet/01.wav", "s01/quiet/02.wav", "s02/fan/03.wav")
    put(folder, "s02/fan/cat.wav")
    (folder / "s02/fan/01.wav").write_bytes(b"RIFF")
    done = call(
        "r", heard=["left sill, surface rust", "right front rail, hole", "right sill, hole"]
    )
    assert done.exit_code == 0, done.output
    for text in (
        "Recordings: 4 by 2 speakers in 2 noises",
        "left out: s02/fan/cat.wav names no sentence",
        "left out: s02/fan/01.wav: it",
        "missing: s01, quiet: 03",
        "Heard by: built-in (told)",
        "50.0 % (1/2)",
        "9 to 91 %",
        "100.0 % (1/1)",
    ):
        assert text in done.output.replace("\\", "/"), text
    assert "heard  " not in done.output


def test_what_went_wrong_is_listed_when_it_is_asked_for(call: Call, tmp_path: Path) -> None:
    """Said, heard, wanted and made."""
    put(tmp_path / "r", "s01/quiet/01.wav", "s01/quiet/02.wav")
    done = call("r", "--wrong", heard=[RIGHT[0], "right front rail, pitting"])
    assert "s01, quiet, 02\n" in done.output
    assert "    heard  right front rail, pitting" in done.output
    assert "condition hole, size_mm 25.4" in done.output
    assert "s01, quiet, 01\n" not in done.output


def test_figures_are_written_where_they_are_asked_for(call: Call, tmp_path: Path) -> None:
    """And what they hold is told."""
    put(tmp_path / "r", "s01/quiet/01.wav")
    done = call("r", "--json", "figures.json", heard=RIGHT[:1])
    told = json.loads((tmp_path / "figures.json").read_text("utf-8"))
    assert told["systems"]["built-in"]["all"]["exact"] == 1
    assert told["ears"] == {"built-in": "told"}
    assert "No sound, and nothing that was heard" in done.output


@pytest.mark.parametrize(
    ("words", "kind", "told"),
    [
        (("nowhere",), InputFault, "no folder"),
        (("r", "--count", "9"), UsageFault, "--count does nothing without --sheet"),
        (("r", "--sheet", "--wrong"), UsageFault, "--wrong does nothing beside --sheet"),
        (("r", "--map", "unibody"), InputFault, "for the map ladder-frame, not unibody"),
        (("cats",), InputFault, "None of the recordings could be heard"),
        (("damaged",), InputFault, "None of the recordings could be heard: it"),
    ],
)
def test_faults_are_one_sentence_with_a_next_step(
    words: tuple[str, ...], kind: type[VoicelogError], told: str, call: Call, tmp_path: Path
) -> None:
    """Never a stack trace."""
    put(tmp_path / "r", "s01/quiet/01.wav")
    put(tmp_path / "cats", "s01/quiet/cat.wav")
    put(tmp_path / "damaged", "s01/quiet/01.wav")
    (tmp_path / "damaged/s01/quiet/01.wav").write_bytes(b"no sound")
    fault = call(*words).exception
    assert isinstance(fault, kind)
    assert told in str(fault)
    assert fault.hint


def test_a_missing_extra_is_told_before_anything_is_heard(
    call: Call, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Even before the folder is looked at."""
    monkeypatch.setattr("voicelog.yardstick.words.find_spec", lambda _name: None)
    assert "pip install 'voicelog[measure]'" in str(call("nowhere").exception)
