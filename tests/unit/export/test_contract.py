"""The contract's models, its schemas and the way faults are told."""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path
from typing import Any, get_args

import pytest
from jsonschema import Draft202012Validator

from voicelog.domain import grade as grades
from voicelog.domain import slot as slots
from voicelog.domain.entry import Kind
from voicelog.domain.zone import Rails
from voicelog.errors import InputFault, UsageFault
from voicelog.export import scalars, shapes
from voicelog.export.contract import DIALECT, faults, main, schema_documents, validate

SCHEMAS = Path(__file__).parents[3] / "shared" / "schema"


def test_the_published_schemas_are_those_of_the_models() -> None:
    """Drift test: ``python -m voicelog.export.contract --write shared/schema`` mends it."""
    published = {path.name: json.loads(path.read_text("utf-8")) for path in SCHEMAS.iterdir()}
    assert published == schema_documents()


def test_the_schemas_can_be_written_again_byte_for_byte(tmp_path: Path) -> None:
    """As the command of the drift test does."""
    main(["--write", str(tmp_path)])
    for path in SCHEMAS.iterdir():
        assert (tmp_path / path.name).read_bytes() == path.read_bytes()


def test_the_module_is_a_command(tmp_path: Path) -> None:
    """Without a warning on the way."""
    command = [sys.executable, "-W", "error", "-m", "voicelog.export.contract"]
    subprocess.run([*command, "--write", str(tmp_path)], check=True)
    assert len(list(tmp_path.iterdir())) == len(schema_documents())


@pytest.mark.parametrize("name", sorted(schema_documents()))
def test_schemas_are_of_the_dialect_they_name(name: str) -> None:
    """A second implementation accepts each as a schema."""
    document = schema_documents()[name]
    assert document["$schema"] == DIALECT
    Draft202012Validator.check_schema(document)


def _parts(schema: Any) -> list[dict[str, Any]]:
    """Every object inside a schema."""
    if isinstance(schema, dict):
        return [schema, *(part for value in schema.values() for part in _parts(value))]
    if isinstance(schema, list):
        return [part for value in schema for part in _parts(value)]
    return []


@pytest.mark.parametrize("name", sorted(schema_documents()))
def test_schemas_lean_on_nothing_outside_themselves(name: str) -> None:
    """No address to fetch, no key that only another standard knows, no default that fills in."""
    for part in _parts(schema_documents()[name]):
        assert not {"$id", "discriminator", "default"} & part.keys()
        assert str(part.get("$ref", "#/")).startswith("#/")


@pytest.mark.parametrize("name", sorted(schema_documents().keys() - {"fact.schema.json"}))
def test_documents_have_no_null_and_no_unknown_keys(name: str) -> None:
    """What is unknown is left out; what is new needs a new contract."""
    for part in _parts(schema_documents()[name]):
        assert part.get("type") != "null"
        if "properties" in part:
            assert part["additionalProperties"] is False


def test_every_number_names_its_unit() -> None:
    """In its key or in its description."""
    properties = schema_documents()["answer.schema.json"]["$defs"]["Graded"]["properties"]
    for name, part in properties.items():
        if part.get("type") == "number":
            unit = name.rsplit("_", 1)[1]
            assert f"in {unit}" in part["description"], name


@pytest.mark.parametrize(
    ("listed", "domain"),
    [
        (scalars.Kind, tuple(Kind)),
        (scalars.Grade, tuple(grades.Grade)),
        (scalars.Rails, tuple(Rails)),
        (scalars.Side, slots.SIDES),
        (scalars.Face, slots.FACES),
        (scalars.Layer, slots.LAYERS),
        (scalars.Part, slots.PARTS),
        (scalars.Probe, slots.PROBES),
        (scalars.Method, slots.METHODS),
        (scalars.Surround, slots.SURROUNDS),
        (scalars.Certainty, slots.CERTAINTIES),
    ],
)
def test_closed_lists_are_those_of_the_domain(listed: Any, domain: tuple[str, ...]) -> None:
    """One list, in two places that cannot part."""
    assert get_args(listed) == domain


def test_the_contract_has_every_slot_of_the_domain() -> None:
    """And no other."""
    assert tuple(shapes.Slots.__annotations__) == tuple(slots.SLOTS)


def test_a_document_that_fits_is_let_through(examples: dict[str, dict[str, Any]]) -> None:
    """Each is told from the others by its keys."""
    for name, document in examples.items():
        validate(document)
        assert faults(document, name.split("-")[0]) == ()


def test_every_fault_is_listed_with_its_path(examples: dict[str, dict[str, Any]]) -> None:
    """The unions inside the models are no steps of the path."""
    document = json.loads(json.dumps(examples["inspection-pickup.json"]))
    document["entries"][1]["side"] = "driver"
    del document["entries"][3]["history"][0]["id"]
    document["verdict"]["tier"] = 3
    paths = [fault.split(":")[0] for fault in faults(document)]
    assert paths == ["entries/1/side", "entries/3/history/0/id", "verdict/tier"]


def test_validate_raises_one_input_fault_with_the_paths(
    examples: dict[str, dict[str, Any]],
) -> None:
    """Many faults are counted, not all shown."""
    document = examples["answer-pickup.json"]
    document = {**document, "entries": [{**entry, "at": 7} for entry in document["entries"]]}
    with pytest.raises(InputFault) as caught:
        validate(document)
    assert "entries/0/at: " in str(caught.value)
    assert "and 3 more" in str(caught.value)
    assert caught.value.hint


@pytest.mark.parametrize("document", [None, [], "text", 3, {}, [{"entries": []}], {1: 2}])
def test_anything_else_is_refused(document: object) -> None:
    """Whatever a JSON parser may give."""
    with pytest.raises(InputFault):
        validate(document)


def test_a_schema_that_is_not_there_is_a_usage_fault() -> None:
    """With the names there are."""
    with pytest.raises(UsageFault, match="answer, inspection, fact"):
        faults({}, "report")


@pytest.mark.parametrize("hostile", ["\x1b[2J", "\u202e", "\0", "\ud800", "x" * 10_000_000, "a/b"])
def test_what_is_told_of_a_fault_is_inert(hostile: str) -> None:
    """A document from elsewhere cannot write to the terminal or fill it."""
    entry = {hostile: hostile, "kind": hostile, "at": hostile}
    told = "\n".join(
        (
            *faults({"entries": [entry], "verdict": {hostile: 1}}, "answer"),
            *faults({"entries": [{**entry, "kind": "remark"}]}, "answer"),
            *faults({"type": "opened", "at": hostile, "grammar": {hostile: 1}}, "fact"),
        )
    )
    assert told.replace("\n", "").isprintable()
    assert told.isascii()
    assert len(told) < 10_000
