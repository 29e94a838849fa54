"""What is handed over, held against the standards it claims, by programs that know nothing of this one.

The schemas are read by two implementations of JSON Schema 2020-12 that share no code: ``jsonschema``
is written in Python, ``jsonschema-rs`` in Rust. Both check ``date-time`` as RFC 3339 only when told
to. The schemas are checked against the meta-schema of the specification,
https://json-schema.org/draft/2020-12/schema.

Tables: RFC 4180, section 2, with its own examples. Cues: WebVTT, W3C Candidate Recommendation of
2019-04-04, section 4 (https://www.w3.org/TR/webvtt1/), and the library ``webvtt-py``.
"""

from __future__ import annotations

import copy
import csv
import html
import io
import json
import re
import sqlite3
from collections.abc import Iterator
from functools import cache
from pathlib import Path
from typing import Any

import jsonschema_rs
import pytest
import webvtt
from jsonschema import Draft202012Validator

from voicelog.domain.entry import Entry, Finding, Kind
from voicelog.export.csv_file import COLUMNS, Line, findings_csv
from voicelog.export.vtt import Cue, Note
from voicelog.export.vtt import webvtt as written

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


RFC_4180 = re.compile(r'(?:(?:[^",\r\n]*|"(?:[^"]|"")*")(?:,(?:[^",\r\n]*|"(?:[^"]|"")*"))*\r\n)+')
"""RFC 4180, section 2, rules 1 to 7; any character where it has US-ASCII."""

EXAMPLES_OF_RFC_4180 = (
    "aaa,bbb,ccc\r\nzzz,yyy,xxx\r\n",
    '"aaa","bbb","ccc"\r\nzzz,yyy,xxx\r\n',
    '"aaa","b\r\nbb","ccc"\r\nzzz,yyy,xxx\r\n',
    '"aaa","b""bb","ccc"\r\n',
)

HOSTILE = (
    '3/16", "thin" a <v Else>b</v> & --> c\r\n\r\n00:00:09.000 --> 00:00:10.000\n=1'
    "\x00\x1b[2J\u202ee\u2028f &amp;"
)


def _line(number: int, text: str = "", **slots: Any) -> Line:
    entry = Entry(f"e{number}.1", f"u{number}", "2026-03-14T09:05:00Z", Kind.FINDING, slots, text)
    return Line(Finding(entry))


def _table() -> str:
    thin = {"zone": "front-rail", "condition": "thinning", "thickness_mm": 1.9, "nominal_mm": 1.5}
    return findings_csv([_line(2, HOSTILE, landmark=HOSTILE), _line(3, "a, b", **thin)])


@pytest.mark.parametrize("example", EXAMPLES_OF_RFC_4180)
def test_the_grammar_of_tables_takes_the_examples_of_its_standard(example: str) -> None:
    """Else it would prove nothing of ours."""
    assert RFC_4180.fullmatch(example)
    assert not RFC_4180.fullmatch(example.replace("\r\n", "\n"))


def test_the_table_is_rfc_4180() -> None:
    """CR LF after every line, the last one too; quotes doubled; as many fields in every line."""
    text = _table()
    assert RFC_4180.fullmatch(text)
    rows = list(csv.reader(io.StringIO(text, newline=""), strict=True))
    assert {len(row) for row in rows} == {len(COLUMNS)}
    assert text.count("\r\n") == len(rows) == 3


def test_a_database_takes_the_rows() -> None:
    """Measures are numbers to a program that is told nothing but the columns' names."""
    rows = csv.DictReader(io.StringIO(_table(), newline=""))
    with sqlite3.connect(":memory:") as base:
        base.execute(f"create table entries ({', '.join(f'{name} numeric' for name in COLUMNS)})")
        marks = ", ".join("?" * len(COLUMNS))
        base.executemany(
            f"insert into entries values ({marks})",  # noqa: S608 - marks only
            [tuple(row.values()) for row in rows],
        )
        query = "select entry, loss_percent from entries where thickness_mm between 1 and 2"
        assert base.execute(query).fetchall() == [("e3.1", -26.7)]


_TIME = r"\d{2,}:[0-5]\d:[0-5]\d\.\d{3}"
_TEXT = r"(?:(?!-->)[^\r\n])+"
WEBVTT = re.compile(
    rf"WEBVTT\n(?:\n(?:NOTE(?:\n{_TEXT})*|{_TEXT}\n{_TIME} --> {_TIME}(?:\n{_TEXT})*)\n)*"
)
"""Section 4.1 as far as this program writes it: a header, then comments and cues with identifiers,
a blank line in front of each; no arrow but that between two times."""


def test_cues_are_webvtt_whatever_was_said() -> None:
    """No tag, no arrow, no new line or blank line, no control or direction mark gets through."""
    text = written(
        [
            Note((HOSTILE, "STYLE", "REGION")),
            Cue("u2", 0.0, 1.5, HOSTILE, HOSTILE, (HOSTILE,)),
            Cue("u3", 359_999.9, 1.5, "R. Sample", "left front rail"),
        ]
    )
    assert WEBVTT.fullmatch(text)
    assert text.replace("\n", "").isprintable()
    hostile, plain = webvtt.from_buffer(io.StringIO(text)).captions
    assert [caption.identifier for caption in (hostile, plain)] == ["u2", "u3"]
    assert (plain.start, plain.end, plain.voice) == ("99:59:59.900", "100:00:01.400", "R. Sample")
    cues = text.partition("u2\n")[2]  # a comment is no markup to anybody
    assert cues.count("<v ") == cues.count("<") - cues.count("</v>") == 2
    assert "a <v Else>b</v> & --> c" in html.unescape(hostile.raw_text)
