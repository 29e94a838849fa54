"""Round trips: what is handed over as a table, as cues or as JSON comes back, whatever was said."""

from __future__ import annotations

import csv
import io
import json
from typing import Any

import webvtt
from hypothesis import given, settings
from hypothesis import strategies as st

from voicelog.domain.entry import Entry, Finding, Kind
from voicelog.domain.grade import Grade
from voicelog.domain.inert import inert
from voicelog.domain.slot import SLOTS
from voicelog.export.answer import entry_document
from voicelog.export.csv_file import COLUMNS, Line, findings_csv, harmless
from voicelog.export.json_file import json_text
from voicelog.export.vtt import Cue, Note
from voicelog.export.vtt import webvtt as written

HOSTILE = (
    "=cmd|'/c calc'!A1", '"', '""', ",", "\r\n", "\n\n", "\x00", "\x1b[31m", "\u202e", "\ud800", "\u2028",
    "-->", "a --> b", "</v>", "<v Sam>", "&lt;", "&amp;lt;", "NOTE", "WEBVTT", "\ufeff", "\u0085", "<b>",
    "00:00:01.000 --> 00:00:02.000", "STYLE", "X-TIMESTAMP-MAP=", "&#10;", "\x1c", "\v", "\f",
)  # fmt: skip
texts = st.lists(st.text(st.characters(), max_size=8) | st.sampled_from(HOSTILE), max_size=3).map(
    "".join
)
names = st.from_regex(r"[a-z]+(-[a-z]+)*", fullmatch=True)
numbers = st.floats(0, 5000) | st.integers(0, 500)
values = {"word": texts, "name": names, "text": texts}
slots = st.fixed_dictionaries(
    {},
    optional={name: values.get(spec.kind, numbers) for name, spec in SLOTS.items()},
)
some_texts = st.lists(texts, max_size=2).map(tuple)


@st.composite
def lines(draw: st.DrawFn, number: int) -> Line:
    """An entry of any kind as a row."""
    entry = Entry(
        f"e{number}.1", f"u{number}", "2026-03-14T09:05:00Z", draw(st.sampled_from(Kind)), draw(slots),
        draw(texts), draw(some_texts), draw(texts), tags=draw(some_texts),
    )  # fmt: skip
    grade = draw(st.sampled_from(Grade))
    found = Finding(entry, grade=grade, computed_grade=grade, withdrawn=draw(st.booleans()))
    return Line(found, draw(texts), draw(some_texts), draw(some_texts))


@given(data=st.data(), many=st.integers(0, 4))
@settings(max_examples=40)
def test_a_table_comes_back_cell_by_cell(data: st.DataObject, many: int) -> None:
    """By the reader of the standard library: one row for each entry that holds, numbers as numbers, and
    text as it was but for what could steer a terminal or run in a spreadsheet.
    """
    given_lines = [data.draw(lines(number)) for number in range(2, 2 + many)]
    text = findings_csv(given_lines)
    header, *rows = csv.reader(io.StringIO(text, newline=""), strict=True)
    held = [line for line in given_lines if not line.finding.withdrawn]
    assert tuple(header) == COLUMNS
    assert len(rows) == len(held)
    assert text.replace("\r\n", "").isprintable()
    for line, row in zip(held, rows, strict=True):
        cells = dict(zip(header, row, strict=True))
        told = entry_document(line.finding)
        assert cells["said"] == harmless(told.get("text", ""))
        assert cells["place"] == harmless(line.place)
        for name in SLOTS.keys() & told.keys():
            _same(cells[name], told[name])
        assert all(cells[name] == "" for name in SLOTS.keys() - told.keys())


def _same(cell: str, value: Any) -> None:
    if isinstance(value, str):
        assert cell == harmless(value)
    else:
        assert float(cell) == value


@given(st.dictionaries(texts, st.recursive(
    texts | st.booleans() | st.integers(-(2**53), 2**53) | st.floats(allow_nan=False, allow_infinity=False),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(texts, inner, max_size=3),
    max_leaves=8,
)))  # fmt: skip
@settings(max_examples=60)
def test_any_document_comes_back_from_its_text(document: dict[str, Any]) -> None:
    """And its text does nothing on a terminal: ASCII, and no control characters but line feeds."""
    text = json_text(document)
    assert json.loads(text) == document
    assert json_text(json.loads(text)) == text
    assert text.isascii()
    assert text.replace("\n", "").isprintable()


cues = st.builds(
    Cue, st.integers(2, 99).map(lambda n: f"u{n}"), st.floats(0, 40_000), st.floats(0, 20), texts, texts,
    some_texts,
)  # fmt: skip
notes = st.builds(Note, some_texts)


@given(st.lists(cues | notes, max_size=5))
@settings(max_examples=60)
def test_cues_come_back_by_a_reader_of_the_standard(blocks: list[Cue | Note]) -> None:
    """As many as there were, in their order, with their sentences: no text ends a cue, begins another,
    or hides one in a comment.
    """
    told = [block for block in blocks if isinstance(block, Cue)]
    read = webvtt.from_buffer(io.StringIO(written(blocks))).captions
    assert [cue.identifier for cue in read] == [block.name for block in told]
    starts = [_seconds(cue.start) for cue in read]
    assert starts == sorted(starts)
    for cue, block in zip(read, told, strict=True):
        assert _seconds(cue.start) < _seconds(cue.end)
        assert _seconds(cue.start) >= block.start_s - 0.001
        made = [line for line in block.made if inert(line).strip()]
        assert len(cue.lines) == 1 + len(made)
        assert "<" not in "".join(cue.lines[1:])


def _seconds(time: str) -> float:
    hours, minutes, seconds = time.split(":")
    return int(hours) * 3600 + int(minutes) * 60 + float(seconds)


@given(st.lists(cues | notes, max_size=5))
@settings(max_examples=60)
def test_blocks_of_cues_are_what_the_grammar_of_the_standard_says(blocks: list[Cue | Note]) -> None:
    """Read by hand: parted by empty lines, "-->" once in a cue and nowhere else."""
    head, *parts = written(blocks).removesuffix("\n").split("\n\n")
    assert head == "WEBVTT"
    assert len(parts) == len(blocks)
    for block, part in zip(blocks, parts, strict=True):
        assert part.count("-->") == isinstance(block, Cue)
        assert part.replace("\n", "").isprintable()
        assert part.startswith("NOTE") == isinstance(block, Note)
