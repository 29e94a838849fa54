"""``voicelog why``: grades and verdicts explained, line by line."""

from __future__ import annotations

import json
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner, Result

from voicelog.cli.why import why
from voicelog.config.grammar import load_grammar
from voicelog.config.settings import Settings
from voicelog.errors import InputFault, UsageFault
from voicelog.export.contract import validate
from voicelog.runtime.opening import open_reading

SAID = (
    "left mid rail, scale, firm",
    "left front rail, reads two point three, should be three",
    "right shock mount, blistering, call it cosmetic",
    "brake line, pitting",
    "left sill clean",
)


@pytest.fixture(scope="module", autouse=True)
def loaded_once() -> Iterator[None]:
    """A log's own copy is the shipped grammar here."""
    shipped = load_grammar()
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr("voicelog.runtime.logs.checked_folder", lambda *_, **__: shipped)
        yield


@pytest.fixture(scope="module")
def log(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Entries e2.1 to e6.1."""
    with open_reading(Settings(into=tmp_path_factory.mktemp("said")), keep=True) as session:
        for number, said in enumerate(SAID):
            session.read(said, at_s=float(number * 60))
        assert session.folder is not None
        return session.folder


def call(*arguments: object) -> Result:
    """Ask the command."""
    return CliRunner().invoke(why, [str(argument) for argument in arguments])


def as_json(*arguments: object) -> Any:
    """What a program gets."""
    told = json.loads(call(*arguments, "--json").stdout)
    validate(told, "why")
    return told


def test_an_entry_is_told_with_rules_sources_and_what_would_change_it(log: Path) -> None:
    """Each line can be understood by itself."""
    told = call(log, "e2.1").stdout
    assert "e2.1: left mid rail" in told
    assert "Rule 1, scale: Scale or pitting means metal has been eaten away" in told
    assert "It gives repair, unproven. Source: New Zealand VIRM, in-service, 3-1" in told
    assert "It would be repair if bare metal was measured." in told


def test_the_wall_is_told_with_its_range(log: Path) -> None:
    """And that the reading does not decide a limit."""
    told = call(log, "e3.1").stdout
    assert "23.3 % of the wall lost, 20.0 to 26.7 %" in told
    assert "does not decide the limit of 25 %: measure again" in told


def test_rule_and_inspector_are_told_side_by_side(log: Path) -> None:
    """Where they disagree."""
    told = call(log, "e4.1").stdout
    assert "The inspector called it cosmetic, the rules give treat." in told


def test_cautions_and_entries_without_a_grade(log: Path) -> None:
    """A line comes with its caution, a clear has no grade."""
    told = call(log, "e5.1", "e6.1").stdout
    assert "Do not pick or scrape at this line" in told
    assert "It has no grade: only findings are graded." in told


def test_a_range_means_all_between(log: Path) -> None:
    """As in ``voicelog amend``."""
    told = [entry["id"] for entry in as_json(log, "e2.1..e4.1")["entries"]]
    assert told == ["e2.1", "e3.1", "e4.1"]


def test_json_holds_the_explanation(log: Path) -> None:
    """Rules with what they did, what would change it, the wall."""
    (entry,) = as_json(log, "e3.1")["entries"]
    told = entry["explanation"]
    assert [rule["id"] for rule in told["rules"]] == entry["rules"]
    assert told["wall_loss"]["straddles"] == ["wall_loss_percent"]
    assert {"said", "grade", "unproven", "rules"} == set(told["what_ifs"][0])
    assert "pointers" not in entry


def test_public_rules_are_pointed_at_on_request(log: Path) -> None:
    """For the regions named, with document and item; 49 CFR 393.201 gives no figure for rust."""
    told = call(log, "e2.1", "--region", "us").stdout
    assert "To look up (United States): 49 CFR part 393" in told
    assert "To look up" not in call(log, "e2.1").stdout
    (entry,) = as_json(log, "e2.1", "--region", "uk")["entries"]
    assert {pointer["region"] for pointer in entry["pointers"]} == {"uk"}


def test_the_verdict_is_told_with_what_could_change_it(log: Path) -> None:
    """Answers, reasons, and what is open, the gravest first."""
    told = call(log).stdout
    assert "Move it today? do not drive" in told
    assert "   - No driving until it has been assessed: brake line" in told
    verdict = as_json(log)["verdict"]
    assert verdict["provisional"] is True
    assert verdict["because"]
    for swing in verdict["swings"]:
        assert {"gap", "supposed", "if_bad", "if_good", "text"} == set(swing)


def test_an_empty_log_is_told_in_a_few_lines(tmp_path: Path) -> None:
    """Dozens of open places come to a handful of sentences; all of them are there for a program."""
    with open_reading(Settings(into=tmp_path), keep=True) as session:
        folder = session.folder
    told = call(folder).stdout
    assert "Frame overall: unknown" in told
    assert "Left control arm mount; Right control arm mount" in told
    assert len(told.splitlines()) < 25
    assert len(as_json(folder)["verdict"]["swings"]) > 50
    assert call(folder, "--all").stdout.count("(nobody looked)") >= told.count("(nobody looked)")


@pytest.mark.parametrize(
    ("arguments", "told"),
    [(["e99.1"], "no entry 'e99.1'"), (["e4.1..e2.1"], "has no e2.1"), (["e9\x1b[2J"], "e9")],
)
def test_what_is_not_there_is_refused(arguments: list[str], told: str, log: Path) -> None:
    """By name, and nothing is printed instead."""
    result = call(log, *arguments)
    assert isinstance(result.exception, UsageFault)
    assert told in str(result.exception)
    assert result.stdout == ""


def test_a_folder_without_a_log(tmp_path: Path) -> None:
    """Is told as one."""
    assert isinstance(call(tmp_path).exception, InputFault)


def test_hostile_text_is_shown_inert(tmp_path: Path) -> None:
    """What was typed into a log cannot steer a terminal."""
    with open_reading(Settings(into=tmp_path), keep=True) as session:
        session.read("left mid rail, scale \x1b[2J\x07 [bold]", at_s=0.0)
        folder = session.folder
    told = call(folder, "e2.1").stdout
    assert "\x1b" not in told
    assert "\x07" not in told


def test_help_teaches_by_example() -> None:
    """And promises nothing."""
    told = call("--help").stdout
    assert "voicelog why last e12.1" in told
    for word in ("safe", "passed", "roadworthy"):
        assert word not in told.lower().replace("unsafe", "")
