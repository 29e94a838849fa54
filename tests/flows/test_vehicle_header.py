"""The vehicle's header end to end: flags, words, corrections, what is noted later, the list."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner, Result

from voicelog.cli.main import cli
from voicelog.config.settings import Settings
from voicelog.errors import VoicelogError
from voicelog.export.contract import validate
from voicelog.recognise.typed_engine import TypedEar
from voicelog.runtime.going_on import earlier_log
from voicelog.runtime.opening import open_again, open_reading

Run = Callable[..., Result]
VIN = "1M8GDM9AXKP042788"
SPELT = "I spell VIN one mike eight golf delta mike nine alfa x-ray kilo papa zero four two seven eight eight"


@pytest.fixture
def run(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Run:
    """A command in a folder of its own, with no settings of the tester's."""
    monkeypatch.setenv("XDG_CONFIG_HOME", str(tmp_path / "config"))
    monkeypatch.setenv("COLUMNS", "80")
    monkeypatch.chdir(tmp_path)

    def run(*arguments: str) -> Result:
        return CliRunner().invoke(cli, arguments)

    return run


def _header(run: Run) -> dict[str, Any]:
    result = run("vehicle", "last", "--into", "logs", "--json")
    assert result.exit_code == 0, result.output
    header: dict[str, Any] = json.loads(result.stdout)
    validate(header, "vehicle")
    return header


def _block(output: str) -> list[str]:
    """The lines under "Vehicle"."""
    _, _, after = output.partition("Vehicle ---")
    return [line.strip() for line in after.partition("\n\n")[0].splitlines()[1:]]


def test_a_header_by_voice(run: Run) -> None:
    """Said while looking; findings are what they would be without it."""
    said = (
        "okay, it's on the lift", "odometer eighty two thousand four hundred miles", "it's filthy",
        "owner won't let me scrape", "inspected by sam porter", SPELT,
        "left front rail, surface rust, metal is firm",
    )  # fmt: skip
    result = run("read", "--into", "logs", *said)
    assert result.exit_code == 0, result.output
    assert _block(result.output) == [
        f"VIN:         {VIN}",
        "Odometer:    82 400 mi (132 610 km)",
        "Inspector:   Sam Porter",
        "It stood:    on a lift",
        "Surface:     dirty",
        "Refused:     scraping (“owner won't let me scrape”)",
    ]
    answer = json.loads(run("read", "--json", *said).stdout)
    findings = [entry for entry in answer["entries"] if entry["kind"] != "remark"]
    assert [(e["zone"], e["condition"], e["grade"]) for e in findings] == [
        ("front-rail", "surface-rust", "cosmetic")
    ]


def test_a_header_by_flags_and_what_is_noted_later(run: Run) -> None:
    """Flags stand in the first line; what is noted later holds, and both are told apart."""
    flags = (
        "--vin", VIN, "--odometer", "82 400 mi", "--stood", "floor", "--surface", "wet",
        "--refused", "scraping: owner says no", "--inspector", "Robin", "--plate", "AB 12",
    )  # fmt: skip
    result = run("read", "--into", "logs", "--subject", "pickup", *flags, "left sill, hole")
    assert "Refused:     scraping (“owner says no”)" in _block(result.output)
    (journal,) = Path("logs").glob("*/journal.jsonl")
    opened = json.loads(journal.read_text(encoding="utf-8").splitlines()[0])
    assert opened["vehicle"]["odometer"] == {"value": 82400, "unit": "mi"}
    result = run("vehicle", "last", "--into", "logs", "--odometer", "82500 mi", "--by", "Sam")
    assert result.exit_code == 0, result.output
    last = json.loads(journal.read_text(encoding="utf-8").splitlines()[-1])
    assert (last["type"], last["by"]) == ("vehicle", "Sam")
    assert last["set"] == {"odometer": {"value": 82500, "unit": "mi"}}
    header = _header(run)
    assert (header["described"], header["plate"], header["inspector"]) == (
        "pickup",
        "AB 12",
        "Robin",
    )
    assert header["odometer"]["value"] == 82500
    assert header["contradictions"] == [
        "Sources differ on the odometer reading: 82400 mi (at the start) and 82500 mi (noted later)"
    ]
    assert "The log is whole" in run("verify", str(journal.parent)).output


def test_showing_it_writes_nothing(run: Run) -> None:
    """Without flags the log stays as it is, byte for byte."""
    run("read", "--into", "logs", "left sill, hole")
    (journal,) = Path("logs").glob("*/journal.jsonl")
    before = journal.read_bytes()
    result = run("vehicle", "last", "--into", "logs")
    assert result.output == "Nothing is known of the vehicle.\n"
    assert journal.read_bytes() == before


def test_a_vin_that_does_not_check(run: Run) -> None:
    """Told at once and wherever the header is shown; kept as it was given."""
    wrong = VIN.replace("9AX", "5AX")
    result = run("read", "--into", "logs", "--vin", wrong, "left sill, hole")
    assert "It is kept as given" in result.stderr
    header = _header(run)
    assert header["vin"] == wrong
    assert "position 9" in header["vin_problem"]


@pytest.mark.parametrize(
    "flags",
    [("--odometer", "lots"), ("--refused", "towing"), ("--stood", "boat"), ("--surface", "sandy")],
)
def test_a_flag_that_cannot_be_opens_no_log(run: Run, flags: tuple[str, str]) -> None:
    """Refused before anything is written."""
    result = run("read", "--into", "logs", *flags, "left sill, hole")
    assert result.exit_code == 2 or isinstance(result.exception, VoicelogError)
    assert not Path("logs").exists()


def test_a_reading_put_right_at_the_bench(run: Run) -> None:
    """As any slot; what is no reading is refused."""
    run("read", "--into", "logs", "the clock shows eighty two thousand four hundred")
    assert "odometer" not in _header(run)
    assert "miles or kilometres" in run("vehicle", "last", "--into", "logs").output
    amend = ("amend", "last", "--into", "logs", "--entry", "e2.1", "--set")
    assert isinstance(run(*amend, "odometer=lots").exception, VoicelogError)
    assert run(*amend, "odometer=82,500 miles").exit_code == 0
    assert _header(run)["odometer"]["value"] == 82500
    run("amend", "last", "--into", "logs", "--entry", "e2.1", "--withdraw")
    assert "odometer" not in _header(run)


def test_the_list_of_a_folder(run: Run) -> None:
    """The newest first; only those with open points; a damaged one is no failure."""
    run("read", "--into", "logs", "--subject", "first", "left sill, hole")
    run("read", "--into", "logs/sub", "--subject", "second", "left sill, it's clean")
    broken = Path("logs/20200101T000000Z-old")
    broken.mkdir()
    (broken / "journal.jsonl").write_bytes(b"{}\n")
    result = run("list", "logs")
    assert result.exit_code == 0
    assert max(map(len, result.output.splitlines())) <= 80
    assert result.output.index("second") < result.output.index("first")
    assert "DAMAGED" in result.output
    assert result.output.endswith("3 inspections in logs\n")
    told = json.loads(run("list", "logs", "--json", "--open").stdout)["inspections"]
    assert all(one.get("open_points") or "damaged" in one for one in told)
    assert run("list", "none").exception is not None


def test_a_header_in_german(run: Run) -> None:
    """The words are data: another language has its own."""
    said = (
        "Kilometerstand 131452 Kilometer", "er steht auf der Hebebühne", "der ganze Wagen ist dreckig",
        "Kratzen ist nicht erlaubt", "geprüft von Sam Porter",
    )  # fmt: skip
    result = run("read", "--grammar", "de", *said)
    assert _block(result.output) == [
        "Odometer:    131 452 km",
        "Inspector:   Sam Porter",
        "It stood:    on a lift",
        "Surface:     dirty",
        "Refused:     scraping (“kratzen ist nicht erlaubt”)",
    ]


def test_flags_of_a_log_that_is_gone_on_with(run: Run) -> None:
    """They come too late for its first line, so they are noted in one of their own."""
    settings = Settings(into=Path("logs"), inspector="Sam")
    with open_reading(settings, keep=True) as session:
        session.read("left sill, hole", at_s=0.0)
        assert session.folder is not None
    earlier = earlier_log(session.folder, settings)
    told = {"plate": "AB1"}
    with open_again(earlier, TypedEar(), vehicle=told) as again:
        again.read("right sill, hole", at_s=3.0)
    header = _header(run)
    assert (header["plate"], header["inspector"]) == ("AB1", "Sam")


def test_the_folder_can_be_named_as_in_other_commands(run: Run) -> None:
    """With --into; FOLDER holds over it."""
    run("read", "--into", "logs", "--subject", "van 3", "left sill, hole")
    assert "van 3" in run("list", "--into", "logs").stdout
    assert "van 3" in run("list", "logs", "--into", "elsewhere").stdout
