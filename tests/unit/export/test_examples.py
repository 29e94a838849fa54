"""The examples, held against the models and against a second implementation of JSON Schema."""

from __future__ import annotations

import json
import re
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest
from jsonschema import Draft202012Validator, FormatChecker

from voicelog.domain.entry import Inspection
from voicelog.domain.fact import Fact
from voicelog.errors import InputFault
from voicelog.export.contract import faults, validate
from voicelog.export.document import log_document
from voicelog.journal.journal import Journal
from voicelog.journal.reading import read_log

SHARED = Path(__file__).parents[3] / "shared"
VALID = sorted((SHARED / "examples" / "valid").glob("*.json"))
COMMANDS = sorted((SHARED / "examples" / "valid" / "commands").glob("*.json"))
INVALID = sorted((SHARED / "examples" / "invalid").glob("*.json"))


def _load(path: Path) -> tuple[Any, str]:
    """The document, and the name of its schema: the first word of the file's name."""
    return json.loads(path.read_text("utf-8")), path.name.split("-")[0]


def _second(schema: str) -> Draft202012Validator:
    """A validator that reads the published schema and nothing of ours."""
    document = json.loads((SHARED / "schema" / f"{schema}.schema.json").read_text("utf-8"))
    return Draft202012Validator(document, format_checker=Draft202012Validator.FORMAT_CHECKER)


def _name(path: Path) -> str:
    return path.stem


def test_the_second_implementation_checks_dates() -> None:
    """It does so only with a package beside it; without, days off the calendar would pass."""
    assert "date-time" in FormatChecker.checkers
    assert not Draft202012Validator.FORMAT_CHECKER.conforms("2026-02-30T09:00:00Z", "date-time")


@pytest.mark.parametrize("path", VALID, ids=_name)
def test_valid_examples_fit_for_both(path: Path) -> None:
    """Models and schema accept them."""
    document, schema = _load(path)
    validate(document, schema)
    validate(document)
    assert _second(schema).is_valid(document)


@pytest.mark.parametrize("path", COMMANDS, ids=_name)
def test_what_commands_print_fits_for_both(path: Path) -> None:
    """And a key more does not, so that the schema is not fitted by everything."""
    document, schema = _load(path)
    validate(document, schema)
    assert _second(schema).is_valid(document)
    assert faults({**document, "more": 1}, schema)
    assert not _second(schema).is_valid({**document, "more": 1})


def test_every_schema_of_a_command_has_an_example() -> None:
    """By the first word of its name."""
    schemas = {path.name.split(".")[0] for path in (SHARED / "schema").iterdir()}
    documents = {"answer", "inspection", "fact", "comparison"}
    assert {path.name.split("-")[0] for path in COMMANDS} == schemas - documents


@pytest.mark.parametrize("path", INVALID, ids=_name)
def test_invalid_examples_fit_for_neither_and_have_one_fault(path: Path) -> None:
    """Models and schema refuse them, for the one reason in the file's name."""
    document, schema = _load(path)
    assert len(faults(document, schema)) == 1
    with pytest.raises(InputFault):
        validate(document, schema)
    assert not _second(schema).is_valid(document)


@pytest.mark.parametrize("schema", ["answer", "inspection", "fact", "comparison"])
def test_every_schema_has_examples_of_both_kinds(schema: str) -> None:
    """So that no schema goes unchecked."""
    assert len([path for path in VALID if path.name.startswith(schema)]) >= 2
    assert len([path for path in INVALID if path.name.startswith(schema)]) >= 8


def test_valid_examples_are_what_the_program_hands_over(tmp_path: Path) -> None:
    """Drift test: ``python shared/examples/make.py`` mends it. Hashes are left out: see there."""
    script = SHARED / "examples" / "make.py"
    subprocess.run([sys.executable, str(script), str(tmp_path)], check=True)
    published, made = _below(SHARED / "examples" / "valid"), _below(tmp_path)
    assert published.keys() == made.keys()
    drifted = [name for name, path in made.items() if _unhashed(path) != _unhashed(published[name])]
    assert drifted == []


def _below(folder: Path) -> dict[str, Path]:
    """Every file below a folder, by its name in there."""
    return {p.relative_to(folder).as_posix(): p for p in folder.rglob("*") if p.is_file()}


def _unhashed(path: Path) -> str:
    """The text of a file, every SHA-256 in it replaced."""
    return re.sub(r"\b[0-9a-f]{64}\b", "#", path.read_text("utf-8"))


def test_the_examples_show_every_kind_of_entry_and_change(
    examples: dict[str, dict[str, Any]],
) -> None:
    """A reader can be built on them alone."""
    kinds = {entry["kind"] for entry in examples["answer-pickup.json"]["entries"]}
    assert kinds == {"finding", "clear", "not-seen", "photo", "remark"}
    lines = [document for name, document in examples.items() if name.startswith("fact-")]
    changes = [change for line in lines for change in line.get("changes", ())]
    done = {change["do"] for change in changes}
    assert done == {"add", "amend", "withdraw", "restore", "replace"}


def test_a_journal_as_it_is_written_fits_line_by_line(
    tmp_path: Path, reviewed_facts: tuple[Fact, ...]
) -> None:
    """The real one, not an example: opened, spoken to, closed, reviewed."""
    facts = reviewed_facts
    start = {"map": "ladder-frame", "rails": "mixed", "ear": "typed", "settings": {"mil": "thou"}}
    files = {"rules/frame.toml": b"rules"}
    with Journal.create(tmp_path, subject="pickup", opened=start, grammar=files) as journal:
        for fact in facts[1:]:
            journal.append(fact.type, fact.body)
        path = journal.folder / "journal.jsonl"
    lines = [json.loads(line) for line in path.read_bytes().splitlines()]
    assert len(lines) == len(facts)
    assert [faults(line, "fact") for line in lines] == [()] * len(lines)
    assert all(_second("fact").is_valid(line) for line in lines)


def test_the_inspection_document_of_a_journal_fits(tmp_path: Path, inspection: Inspection) -> None:
    """Its header is filled from what the journal wrote when it was opened."""
    start = {"map": "ladder-frame", "rails": "mixed", "ear": "typed", "settings": {"mil": "thou"}}
    files = {"rules/frame.toml": b"rules"}
    with Journal.create(tmp_path, subject="pickup", opened=start, grammar=files) as journal:
        document = log_document(read_log(journal.folder).facts, inspection)
    validate(document)
    known = {"id", "created", "subject", "program", "map", "rails", "ear", "settings", "grammar"}
    assert document["log"].keys() == known | {"utterances", "closed"}
