"""What a check says of a log beside its damage: who signed, what was changed since, what it was made of."""

from __future__ import annotations

import time
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import pytest
from said_lines import say, sign

from voicelog.domain.local_time import stamp, zone_of
from voicelog.journal import clock
from voicelog.journal.chain import FIRST_PREV
from voicelog.journal.journal import Journal
from voicelog.journal.lines import digest
from voicelog.journal.reading import Report, read_log, verify


def _line(journal: Journal, number: int) -> bytes:
    return (journal.folder / "journal.jsonl").read_bytes().splitlines()[number - 1]


def test_a_signature_is_noticed_and_its_seal_handed_over(spoken: Journal) -> None:
    """The hash of its line is what the next line would carry."""
    sign(spoken, open=["Left rail: doubtful (e2.1)"], why="sold as seen")
    report = verify(spoken.folder)
    opened, *_, signed = read_log(spoken.folder).facts
    at = stamp(signed.at, zone_of(opened.body))
    spoken.append("note", {})
    assert report.problems == ()
    assert report.notices == (f"Signed by the shop on {at}: 4 lines, 1 open point",)
    assert report.seal == digest(_line(spoken, 5))
    assert verify(spoken.folder).seal == report.seal


def test_a_log_that_nobody_signed_has_no_seal(spoken: Journal) -> None:
    """Nothing to note down."""
    assert verify(spoken.folder).seal == ""


def test_changes_after_signing_are_noticed(spoken: Journal) -> None:
    """Listening is none; a line of the header is; signing again covers them."""
    sign(spoken)
    spoken.append("listened", {"utterance": "u2", "by": "the shop"})
    spoken.append("revised", {"did": "withdraw", "changes": [{"do": "withdraw", "entry": "e2.1"}]})
    assert "1 change was made after signing (line 7)" in verify(spoken.folder).notices
    say(spoken)
    assert "2 changes were made after signing (lines 7, 8)" in verify(spoken.folder).notices
    spoken.append("vehicle", {"set": {"odometer": "60 000 km"}, "by": "Sam"})
    assert "3 changes were made after signing (lines 7, 8, 9)" in verify(spoken.folder).notices
    sign(spoken)
    report = verify(spoken.folder)
    assert [notice[:6] for notice in report.notices] == ["Signed", "Signed"]
    assert (report.ok, report.seal) == (True, digest(_line(spoken, 10)))


def test_many_changes_after_signing_are_counted_not_all_listed(spoken: Journal) -> None:
    """A line of a screen holds no thousand numbers."""
    sign(spoken)
    for _ in range(30):
        say(spoken)
    [_, told] = verify(spoken.folder).notices
    assert told.startswith("30 changes were made after signing (lines 6, 7, 8,")
    assert told.endswith("17 and 18 more)")


def test_as_many_changes_as_are_listed_leave_none_to_count(spoken: Journal) -> None:
    """A dozen stand there by their numbers."""
    sign(spoken)
    for _ in range(12):
        say(spoken)
    assert (
        verify(spoken.folder)
        .notices[1]
        .endswith("(lines 6, 7, 8, 9, 10, 11, 12, 13, 14, 15, 16, 17)")
    )


@pytest.mark.parametrize(
    ("wrong", "told"),
    [
        ({"lines": 3}, "Line 5 signs 3 lines, but 4 stand before it"),
        ({"sha256": "0" * 64}, "Line 5 signs other lines than the 4 that stand before it"),
        (
            {"by": "\x1b[2J", "lines": None},
            "Line 5 of the journal is a signature whose 'lines' is missing or wrong",
        ),
    ],
)
def test_a_signature_that_does_not_hold_is_a_problem(
    spoken: Journal, wrong: dict[str, Any], told: str
) -> None:
    """And as good as not there: nothing is sealed by it."""
    sign(spoken, **wrong)
    assert verify(spoken.folder) == Report(lines=5, clips=2, problems=(told,))


def test_lines_written_anew_after_signing_do_not_fit_the_signature(spoken: Journal) -> None:
    """Somebody who mends the whole chain but not the signature is found out."""
    sign(spoken)
    path = spoken.folder / "journal.jsonl"
    old = path.read_bytes().replace(b'"id":"e4.1"', b'"id":"e4.9"').splitlines()
    prev, mended = FIRST_PREV, []
    for line in old:
        start = line.index(b'"prev":"') + len(b'"prev":"')
        mended.append(line[:start] + prev.encode() + line[start + 64 :])
        prev = digest(mended[-1])
    path.write_bytes(b"".join(line + b"\n" for line in mended))
    assert verify(spoken.folder).problems == (
        "Line 5 signs other lines than the 4 that stand before it",
    )


def test_a_name_cannot_steer_the_terminal(spoken: Journal) -> None:
    """It is shown inert, and not at any length."""
    sign(spoken, by="\x1b[2J" + "x" * 500)
    [notice] = verify(spoken.folder).notices
    assert notice.isprintable()
    assert len(notice) < 120


def test_what_a_recovered_log_says_of_its_signatures(journal: Journal) -> None:
    """Of one that never held, what is the matter."""
    journal.append("was-signed", {"by": "A. N. Other"})
    journal.append("was-signed", {"by": "A. N. Other", "denied": "signs 7 lines"})
    journal.append("left-out", {})
    report = verify(journal.folder)
    assert report.lost == 2
    assert [notice for notice in report.notices if "signature" in notice] == [
        "Line 2 was a signature of A. N. Other; it vouched for the log this was recovered from",
        "Line 3 was a signature of A. N. Other; what it signed was changed",
    ]


def test_whether_the_inspection_was_finished(spoken: Journal) -> None:
    """As the last line tells; a line behind that goes on with it."""
    assert not verify(spoken.folder).finished
    spoken.append("closed", {"reason": "finished"})
    assert verify(spoken.folder).finished


def test_one_more_change_than_is_listed_is_counted(spoken: Journal) -> None:
    """The thirteenth."""
    sign(spoken)
    for _ in range(13):
        say(spoken)
    assert verify(spoken.folder).notices[1].endswith("16, 17 and 1 more)")


def test_a_log_just_opened_is_not_finished(journal: Journal) -> None:
    """Nor is it made of another one."""
    report = verify(journal.folder)
    assert (report.finished, report.recovered) == (False, False)


def test_a_log_that_was_recovered_says_so(tmp_path: Path) -> None:
    """Of which log it was made, and when."""
    told = {"recovered_from": {"folder": "old\x1b[2J", "at": "2026-03-14T09:05:30Z"}}
    with Journal.create(tmp_path, opened=told, grammar={}) as journal:
        journal.append("note", {})
    report = verify(journal.folder)
    assert (report.recovered, report.ok) == (True, True)
    assert report.notices == ("Recovered on 2026-03-14 UTC from a damaged log, old?[2J",)


def test_times_are_those_of_the_place_where_the_log_was_opened(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """As its first line tells; no other line, whatever stands in it, moves the place."""
    monkeypatch.setattr(clock, "utc_now", lambda: datetime(2026, 3, 14, 9, 5, tzinfo=UTC))
    monkeypatch.setenv("TZ", "XXX-05:30")
    time.tzset()
    with Journal.create(tmp_path, opened={}, grammar={}) as journal:
        journal.append("was-signed", {"by": "A. N. Other", "utc_offset_min": 60})
        sign(journal)
    monkeypatch.undo()
    time.tzset()
    *_, signed = verify(journal.folder).notices
    assert signed == "Signed by the shop on 2026-03-14 14:35 UTC+05:30: 2 lines"
