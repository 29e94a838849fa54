"""The table of entries. ``tests/outside/test_exchange_formats.py`` holds it against RFC 4180."""

from __future__ import annotations

import csv
import io
from dataclasses import replace

import pytest

from voicelog.domain.entry import Entry, Finding, Inspection, Kind
from voicelog.domain.slot import SLOTS
from voicelog.export.csv_file import COLUMNS, Line, findings_csv, harmless


def _table(*lines: Line) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(findings_csv(lines), newline="")))


def _line(text: str = "", **slots: object) -> Line:
    entry = Entry("e2.1", "u2", "2026-03-14T09:05:00Z", Kind.FINDING, slots, text)  # type: ignore[arg-type]
    return Line(Finding(entry))


def test_every_kind_of_entry_is_a_row_and_withdrawn_ones_are_none(inspection: Inspection) -> None:
    """What was said is not lost to whoever only has the table; what was taken back is not in it."""
    rows = _table(*map(Line, inspection.findings))
    assert [row["entry"] for row in rows] == [found.entry.id for found in inspection.live]
    assert {row["kind"] for row in rows} == {"finding", "clear", "not-seen", "photo", "remark"}


def test_columns_carry_the_contract_names_with_their_units(inspection: Inspection) -> None:
    """All slots are there, a measure's unit in its name; numbers are plain numbers."""
    assert set(SLOTS) <= set(COLUMNS)
    assert len(set(COLUMNS)) == len(COLUMNS)
    pocket = next(row for row in _table(*map(Line, inspection.findings)) if row["entry"] == "e3.1")
    assert (float(pocket["size_mm"]), pocket["ranges"]) == (15, "size_mm 10 to 15")
    assert (pocket["grade"], pocket["unproven"], pocket["doubtful"]) == ("unsafe", "false", "false")
    assert pocket["rules"] == "hole; probe-failed; probe-failed-at-mounting; rot-at-mounting"
    assert pocket["said"].startswith("right control arm mount")


def test_place_pictures_and_work_stand_beside_the_entry() -> None:
    """They come from elsewhere than the entry; a list within a cell is parted by semicolons."""
    line = replace(
        _line(zone="kick-up"), place="left kick up", photos=("photos/p1.jpg", "photos/p2.jpg"),
        work=("Cut back.", "Weld."),
    )  # fmt: skip
    [row] = _table(line)
    assert row["place"] == "left kick up"
    assert row["photos"] == "photos/p1.jpg; photos/p2.jpg"
    assert row["work"] == "1. Cut back.; 2. Weld."


@pytest.mark.parametrize(
    "text", ['3/16", "thin"', "a,b", '"', '""', "ends in \\", "ünïcode 漢字", ";", " padded "]
)
def test_text_comes_back_as_it_was_said(text: str) -> None:
    """Commas, quotes and scripts make the round trip."""
    [row] = _table(_line(text))
    assert row["said"] == text


@pytest.mark.parametrize(
    "text",
    [
        '=cmd|"/c calc"!A1', "+1", "-1", "@SUM(A1)", "\t=1", "\r=1", "\n=1", "  =1", '"=1', "'=1",
        "“=1", "＝1", "＋1", "－1", "＠x", "\u00a0=1", "\u200b=1", "\ufeff=1", "\x00=1", "﹣1", "−1",
    ],
)  # fmt: skip
def test_a_cell_that_a_spreadsheet_would_run_begins_with_an_apostrophe(text: str) -> None:
    """Signs, their full-width forms, and what may stand in front of them unseen."""
    assert harmless(text).startswith("'")
    for slot in ("landmark", "vin", "spelt"):
        [row] = _table(_line(text, **{slot: text}))
        assert row["said"].startswith("'")
        assert row[slot].startswith("'")


@pytest.mark.parametrize("text", ["", "left rail", "3/16 thick", "a=b", "20 - 30", "x@y", "(-1)"])
def test_other_text_is_left_alone(text: str) -> None:
    """An apostrophe where none is needed would be a fault of ours."""
    assert harmless(text) == text


def test_our_own_negative_number_is_no_formula() -> None:
    """A reading thicker than new is a loss below zero, and stays a number."""
    [row] = _table(_line(thickness_mm=3.0, nominal_mm=2.5))
    assert row["loss_percent"] == "-20.0"


def test_no_cell_holds_a_control_or_direction_mark() -> None:
    """Nothing turns the reading direction or steers the terminal of whoever prints the table."""
    text = findings_csv([_line("a\x1b[31mb\u202ec\u2066d\x7f")])
    assert text.replace("\r\n", "").isprintable()
