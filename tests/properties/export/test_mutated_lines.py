"""The published journal, line by line, with up to three things changed: the schema refuses a line exactly
where the models do. ``test_documents.py`` has the same for the documents, one thing at a time.
"""

from __future__ import annotations

import copy
import json
from collections.abc import Iterator
from functools import cache
from pathlib import Path
from typing import Any

from hypothesis import given, settings
from hypothesis import strategies as st
from jsonschema import Draft202012Validator

from voicelog.domain.fact import Fact
from voicelog.export.contract import faults
from voicelog.export.line_check import misfit

SHARED = Path(__file__).parents[3] / "shared"
LINES = (SHARED / "examples" / "valid" / "journal.jsonl").read_text("ascii").splitlines()
ENVELOPE = ("seq", "at", "offset_s", "prev", "type")

junk = st.one_of(
    st.none(), st.booleans(), st.integers(-3, 3), st.just(10**30), st.floats(-2, 2), st.just(1e300),
    st.text(max_size=4), st.just([]), st.just({}),
    st.sampled_from(
        ("2026-02-30T09:00:00Z", "2026-03-14T09:05:30Z", "2026-03-14T10:05:30+01:00", "u0", "u7", "e7.1",
         "e07.1", "clips/u7.flac", "../u7.flac", "0" * 64, "unsafe", "finding", "left", "opened", "\ud800")
    ),
)  # fmt: skip


@cache
def _schema() -> Draft202012Validator:
    document = json.loads((SHARED / "schema" / "fact.schema.json").read_text("utf-8"))
    return Draft202012Validator(document, format_checker=Draft202012Validator.FORMAT_CHECKER)


@st.composite
def mutated(draw: st.DrawFn) -> dict[str, Any]:
    """A line with values replaced, dropped, put in, or taken from another line."""
    line: dict[str, Any] = json.loads(draw(st.sampled_from(LINES)))
    other = json.loads(draw(st.sampled_from(LINES)))
    for _ in range(draw(st.integers(1, 3))):
        where, key = draw(st.sampled_from(list(_places(line))))
        source, source_key = draw(st.sampled_from(list(_places(other))))
        match draw(st.sampled_from(("junk", "junk", "drop", "other", "add"))):
            case "junk":
                where[key] = draw(junk)
            case "drop":
                del where[key]
            case "other":
                where[key] = copy.deepcopy(source[source_key])
            case _ if isinstance(where, dict):
                where[str(source_key)] = copy.deepcopy(source[source_key])
            case _:
                where.append(draw(junk))
        if not line:
            break
    return line


def _places(document: Any) -> Iterator[tuple[Any, Any]]:
    pairs = document.items() if isinstance(document, dict) else enumerate(document)
    for key, value in list(pairs):
        yield document, key
        if isinstance(value, dict | list):
            yield from _places(value)


@given(mutated())
@settings(max_examples=200)
def test_the_schema_refuses_a_line_exactly_where_the_models_do(line: dict[str, Any]) -> None:
    """And the quick check that every opened log goes through says the same."""
    fits = faults(line, "fact") == ()
    assert fits is _schema().is_valid(line)
    if all(key in line for key in ENVELOPE) and line.get("v") == 1:
        body = {key: value for key, value in line.items() if key not in (*ENVELOPE, "v")}
        quick = misfit(Fact(*(line[key] for key in ENVELOPE), body))
        assert fits is (quick == "")
