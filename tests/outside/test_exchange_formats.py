"""The published schemas, read by two implementations of JSON Schema 2020-12 that share no code.

``jsonschema`` is written in Python, ``jsonschema-rs`` in Rust. Both check ``date-time`` as RFC 3339
only when told to. The schemas are checked against the meta-schema of the
specification, https://json-schema.org/draft/2020-12/schema.
"""

from __future__ import annotations

import copy
import json
from collections.abc import Iterator
from functools import cache
from pathlib import Path
from typing import Any

import jsonschema_rs
import pytest
from jsonschema import Draft202012Validator

SHARED = Path(__file__).parents[2] / "shared"
SCHEMAS = sorted(path.name.split(".")[0] for path in (SHARED / "schema").glob("*.schema.json"))
EXAMPLES = sorted((SHARED / "examples").glob("*/*.json"))
DAYS = ("2026-02-28T09:00:00Z", "2026-02-30T09:00:00Z", "2026-13-01T09:00:00Z", "2026-02-28 9:00")


@cache
def _schema(name: str) -> dict[str, Any]:
    loaded: dict[str, Any] = json.loads(
        (SHARED / "schema" / f"{name}.schema.json").read_text("utf-8")
    )
    return loaded


@cache
def _python(name: str) -> Draft202012Validator:
    return Draft202012Validator(_schema(name), format_checker=Draft202012Validator.FORMAT_CHECKER)


@cache
def _rust(name: str) -> jsonschema_rs.Draft202012Validator:
    return jsonschema_rs.Draft202012Validator(_schema(name), validate_formats=True)


def _both(name: str, document: Any) -> tuple[bool, bool]:
    return _python(name).is_valid(document), _rust(name).is_valid(document)


def _document(path: Path) -> tuple[str, Any]:
    return path.name.split("-")[0], json.loads(path.read_text("utf-8"))


@pytest.mark.parametrize("name", SCHEMAS)
def test_both_take_every_schema_for_a_schema(name: str) -> None:
    """By the meta-schema that the schema itself names."""
    schema = _schema(name)
    assert schema["$schema"] == "https://json-schema.org/draft/2020-12/schema"
    Draft202012Validator.check_schema(schema)
    assert jsonschema_rs.meta.is_valid(schema)


@pytest.mark.parametrize("name", SCHEMAS)
def test_no_schema_needs_another_file(name: str) -> None:
    """Every reference points into the schema itself: whoever checks a log needs no network."""
    references = [value for key, value in _pairs(_schema(name)) if key == "$ref"]
    assert all(str(reference).startswith("#/$defs/") for reference in references)


def _pairs(node: Any) -> Iterator[tuple[str, Any]]:
    for child in (
        node.values() if isinstance(node, dict) else node if isinstance(node, list) else ()
    ):
        yield from _pairs(child)
    if isinstance(node, dict):
        yield from node.items()


@pytest.mark.parametrize("day", DAYS)
def test_both_check_dates(day: str) -> None:
    """Format is an annotation unless a validator is told to assert it."""
    schema = {"type": "string", "format": "date-time"}
    python = Draft202012Validator(schema, format_checker=Draft202012Validator.FORMAT_CHECKER)
    rust = jsonschema_rs.Draft202012Validator(schema, validate_formats=True)
    assert (python.is_valid(day), rust.is_valid(day)) == ((day == DAYS[0],) * 2)


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: f"{path.parent.name}-{path.stem}")
def test_both_agree_on_every_example(path: Path) -> None:
    """Valid ones for both, invalid ones for neither."""
    name, document = _document(path)
    expected = path.parent.name == "valid"
    assert _both(name, document) == (expected, expected)


@pytest.mark.parametrize(
    "path", [p for p in EXAMPLES if p.parent.name == "valid"], ids=lambda path: path.stem
)
def test_both_agree_on_documents_that_were_tampered_with(path: Path) -> None:
    """Each value of the document in turn made null, and each key in turn left out."""
    name, document = _document(path)
    for where in _places(document, 2):
        for damaged in _damaged(document, where):
            python, rust = _both(name, damaged)
            assert python == rust, where


def _places(node: Any, depth: int, here: tuple[Any, ...] = ()) -> Iterator[tuple[Any, ...]]:
    """Paths to every value down to a depth; of a list its first and last only."""
    keys = list(node) if isinstance(node, dict) else []
    if isinstance(node, list) and node:
        keys = sorted({0, len(node) - 1})
    for key in keys:
        yield (*here, key)
        if depth > 0:
            yield from _places(node[key], depth - 1, (*here, key))


def _damaged(document: Any, where: tuple[Any, ...]) -> Iterator[Any]:
    for does in ("null", "gone", "text"):
        damaged = copy.deepcopy(document)
        inside = damaged
        for step in where[:-1]:
            inside = inside[step]
        if does == "gone":
            del inside[where[-1]]
        else:
            inside[where[-1]] = None if does == "null" else "\x00 2026-02-30T09:00:00Z"
        yield damaged


def test_both_agree_on_every_line_of_the_example_journal() -> None:
    """A journal is one document a line."""
    for line in (SHARED / "examples" / "valid" / "journal.jsonl").read_text("utf-8").splitlines():
        assert _both("fact", json.loads(line)) == (True, True)
