"""A damaged log of every kind is named, and what is whole of it becomes a new log."""

from __future__ import annotations

import shutil
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from recovering_log import LAST, damaged, facts_but_first, recovered
from spoken_log import SAID

from voicelog.config.settings import Settings
from voicelog.errors import LogFault
from voicelog.journal.journal import Journal
from voicelog.journal.reading import read_log, verify
from voicelog.runtime.damaged import is_damaged
from voicelog.runtime.logs import document_of, open_log
from voicelog.runtime.review import Review

Run = Callable[..., Any]


def test_an_empty_line_at_the_end_of_every_line(log: Path, lines: list[bytes]) -> None:
    """As a transfer may leave it: all is recovered."""
    damaged(log, *(line + b"\n" for line in lines))
    assert (
        verify(log).problems[0] == "Line 2 of the journal is damaged: it is not JSON: it is empty"
    )
    plan, new = recovered(log)
    assert plan.told.lost == []
    assert len(read_log(new.folder).facts) == LAST


@pytest.mark.parametrize(
    ("rewrite", "named"),
    [
        (lambda text: text.replace(b"\n", b"\r\n"), "Line 1 .*carriage return"),
        (lambda text: b"\xef\xbb\xbf" + text, "Line 1 .*byte order mark"),
        (lambda text: b"\xef\xbb\xbf" + text.replace(b"\n", b"\r\n"), "Line 1 "),
        (lambda text: text.replace(b"\n", b" "), "Line 1 "),
        (lambda text: text + bytes(4096) + b"\n", "Line 8 .*zero bytes, as a power cut leaves"),
    ],
)
def test_what_an_editor_or_a_power_cut_put_in_is_taken_off(
    log: Path, lines: list[bytes], rewrite: Callable[[bytes], bytes], named: str
) -> None:
    """Line ends, marks and zeros: every line is recovered with its number, its words and sound."""
    before = facts_but_first(log)
    damaged(log, rewrite(b"".join(lines)))
    with pytest.raises(LogFault, match=named):
        read_log(log)
    assert is_damaged(log)
    plan, new = recovered(log)
    assert facts_but_first(new.folder) == before
    assert (plan.told.lost, plan.orphans, new.check.clips) == ([], (), len(SAID))


def test_a_tail_of_zeros_after_a_power_cut(log: Path, lines: list[bytes]) -> None:
    """The torn line is left out and kept beside; all before it is there."""
    damaged(log, *lines[:5], lines[5][:100] + bytes(4096))
    plan, new = recovered(log)
    assert [fact[0] for fact in facts_but_first(new.folder)] == [2, 3, 4, 5]
    assert [(rest.number, rest.data) for rest in plan.missing] == [
        (6, lines[5][:100] + bytes(4096))
    ]
    assert plan.orphans == ("clips/u6.flac",)
    assert "'clips/u6.flac' belongs to no line" in new.check.notices[1]


@pytest.mark.parametrize("line", range(1, LAST + 1))
def test_a_repeated_line_is_taken_once(log: Path, lines: list[bytes], line: int) -> None:
    """Wherever the copy stands."""
    before = facts_but_first(log)
    damaged(log, *lines[:line], lines[line - 1], *lines[line:])
    with pytest.raises(LogFault, match=f"Line {line + 1} .*repeated, or out of order"):
        read_log(log)
    plan, new = recovered(log)
    assert (facts_but_first(new.folder), plan.missing) == (before, ())
    assert plan.left[0].why == f"it repeats line {line}"


@pytest.mark.parametrize("line", range(1, LAST))
def test_swapped_lines_are_put_in_order(log: Path, lines: list[bytes], line: int) -> None:
    """By their hashes."""
    before = facts_but_first(log)
    damaged(log, *lines[: line - 1], lines[line], lines[line - 1], *lines[line + 1 :])
    with pytest.raises(LogFault, match=rf"Line {line} .*line {line} of the log is missing, or out"):
        read_log(log)
    assert facts_but_first(recovered(log)[1].folder) == before


@pytest.mark.parametrize("line", range(2, LAST))
def test_a_deleted_line_leaves_its_number_empty(log: Path, lines: list[bytes], line: int) -> None:
    """Ids stay what they were, the log says that something is missing, and nothing takes its id."""
    before = facts_but_first(log)
    damaged(log, *lines[: line - 1], *lines[line:])
    with pytest.raises(LogFault, match=rf"Line {line} .*line {line} of the log is missing"):
        read_log(log)
    plan, new = recovered(log)
    found = facts_but_first(new.folder)
    assert [fact[:2] for fact in found if fact[0] != line] == [
        b[:2] for b in before if b[0] != line
    ]
    assert (plan.told.lost, found[line - 2][1:]) == ([line], ("left-out", {}))
    opened = open_log(new.folder)
    assert f"line {line} could not be recovered" in document_of(opened)["cautions"][0]
    with Journal.reopen(new.folder) as journal:
        assert journal.next_seq == LAST + 1


def test_changes_to_an_entry_that_is_lost_are_kept_apart(log: Path, lines: list[bytes]) -> None:
    """A correction of it has nothing to correct; its words and sound stay."""
    damaged(log, *lines[:2], *lines[3:])
    plan, new = recovered(log)
    assert (plan.told.lost, plan.told.cut) == ([3], [4])
    correction = read_log(new.folder).facts[3]
    assert correction.body["changes"] == []
    assert [change["entry"] for change in correction.body["changes_lost"]] == ["e3.1"]
    assert {"heard", "clip"} <= correction.body.keys()
    assert "line 4 could not be applied" in document_of(open_log(new.folder))["cautions"][0]


def test_without_the_line_that_opened_it(log: Path, lines: list[bytes]) -> None:
    """The map is the one whose copy lies there; the rest is recovered."""
    before = facts_but_first(log)
    damaged(log, *lines[1:])
    _plan, new = recovered(log)
    first, *_ = read_log(new.folder).facts
    assert (facts_but_first(new.folder), first.body["map"]) == (before, "ladder-frame")


def test_lines_of_another_log_stay_out(log: Path, lines: list[bytes], other: list[bytes]) -> None:
    """Among its own, before and behind them; where its own are lost, none takes their place."""
    before = facts_but_first(log)
    for mixed in (
        [*lines[:3], other[2], other[3], *lines[3:]],
        [*other[1:4], *lines],
        [*lines, *other[1:]],
        [line for pair in zip(lines, [*other, b""], strict=False) for line in pair],
    ):
        damaged(log, *mixed)
        plan, new = recovered(log)
        assert facts_but_first(new.folder) == before
        assert all("by right" in rest.why for rest in plan.missing)
        shutil.rmtree(new.folder)


def test_what_is_counted_are_the_lines_of_the_log(run: Run, log: Path, lines: list[bytes]) -> None:
    """Not those of the file: one that is gone counts, and one that is there twice does not."""
    for file, told in (
        ([*lines[:2], *lines[3:]], "6 of 7 lines can be recovered"),
        ([*lines, lines[1]], "7 of 7 lines can be recovered"),
        ([line[:-1] for line in lines], "7 of 7 lines can be recovered"),
    ):
        damaged(log, *file)
        assert told in run("recover", log, "--dry-run").stdout


def test_a_line_end_that_turned_over_does_not_lose_the_line(log: Path, lines: list[bytes]) -> None:
    """The last line was acknowledged; it is not taken for a torn one, and no more are the lines in
    front of it.
    """
    before = facts_but_first(log)
    for tail in ([*lines[:-1], lines[-1][:-1] + b"*"], [lines[0], *(x[:-1] for x in lines[1:])]):
        damaged(log, *tail)
        assert "does not end as a line of the journal does" in verify(log).problems[0]
        with pytest.raises(LogFault):
            Journal.reopen(log)
        assert is_damaged(log)
        _plan, new = recovered(log)
        assert facts_but_first(new.folder) == before
        shutil.rmtree(new.folder)


def test_nothing_is_called_free_of_danger_where_lines_are_lost(
    log: Path, lines: list[bytes]
) -> None:
    """The unsafe finding is in the line that is lost: drive and tier say that they do not know."""
    assert open_log(log).inspection.verdict.drive == "do-not-drive"
    damaged(log, *lines[:2], *lines[3:])
    new = recovered(log)[1].folder
    inspection = open_log(new).inspection
    assert inspection.lost == (3, 4)
    assert inspection.verdict.drive == "not-enough-seen"
    assert "lines 3–4 of the damaged log" in inspection.verdict.because[0]
    with Review.open(new, Settings()) as review:
        assert review.inspection() == inspection


@pytest.mark.parametrize("opening", [b"", b"altered"])
def test_a_lost_opening_is_told_of(log: Path, lines: list[bytes], opening: bytes) -> None:
    """Nobody knows how the rails are made and which rules held: line 1 counts as lost, also where the
    recovered log is damaged and recovered again.
    """
    damaged(log, *([lines[0].replace(b"pickup", b"pick")] if opening else ()), *lines[1:])
    first = recovered(log)[1].folder
    text = (first / "journal.jsonl").read_bytes().splitlines(keepends=True)
    damaged(first, *(line[:-1] + b"\r\n" for line in text))
    for folder in (recovered(first)[1].folder, first):
        damaged(first, *text)
        opened = open_log(folder)
        assert opened.inspection.lost == (1,)
        assert "grades may not be what they were" in document_of(opened)["cautions"][0]
