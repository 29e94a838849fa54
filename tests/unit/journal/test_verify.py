"""Checking a log against itself."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from voicelog.domain.local_time import stamp, zone_of
from voicelog.domain.sound import Clip
from voicelog.errors import InputFault, LogFault
from voicelog.journal.chain import FIRST_PREV
from voicelog.journal.journal import Journal
from voicelog.journal.lines import digest
from voicelog.journal.reading import Report, read_log, verify
from voicelog.journal.seal import seal_of


def _entry(name: str) -> dict[str, Any]:
    """The least that an entry is."""
    at = "2026-03-14T09:05:30.250Z"
    return {"id": name, "utterance": "u2", "at": at, "kind": "remark", "slots": {}}


def _say(journal: Journal, clip: Clip | None = None, **body: Any) -> None:
    utterance = f"u{journal.next_seq}"
    sound = {"clip": journal.keep_clip(utterance, clip)} if clip else {}
    entry = {"do": "add", "entry": _entry(f"e{journal.next_seq}.1")}
    journal.append("utterance", {"utterance": utterance, "changes": [entry], **sound, **body})


@pytest.fixture
def spoken(journal: Journal, clip: Clip) -> Journal:
    """A log with two utterances heard and one typed."""
    _say(journal, clip)
    _say(journal, clip)
    _say(journal)
    return journal


def _edit(journal: Journal, old: bytes, new: bytes) -> None:
    path = journal.folder / "journal.jsonl"
    text = path.read_bytes()
    assert old in text
    path.write_bytes(text.replace(old, new, 1))


def test_a_whole_log_has_no_problems(spoken: Journal) -> None:
    """Lines and clips are counted, and it may still be open."""
    assert verify(spoken.folder) == Report(lines=4, clips=2)
    assert verify(spoken.folder).ok


def test_all_damage_is_told_not_only_the_first(spoken: Journal, clip: Clip) -> None:
    """A missing clip, a changed clip, a changed rule and a changed line in one report."""
    (spoken.folder / "clips" / "u2.flac").unlink()
    (spoken.folder / "clips" / "u3.flac").write_bytes(b"other")
    (spoken.folder / "grammar" / "rules" / "frame.toml").write_bytes(b"")
    _edit(spoken, b'"id":"e3.1"', b'"id":"e3.2"')
    report = verify(spoken.folder)
    assert not report.ok
    assert (report.lines, report.clips) == (4, 0)
    assert report.problems == (
        "grammar/rules/frame.toml was changed after the log was opened",
        "Line 4 of the journal is damaged: the line before it is not the one it was written after",
        "clips/u2.flac of u2 is missing",
        "clips/u3.flac of u3 is not the sound that was kept",
    )


def test_one_lost_line_is_one_problem(spoken: Journal) -> None:
    """The lines after it are judged by each other."""
    path = spoken.folder / "journal.jsonl"
    lines = path.read_bytes().splitlines(keepends=True)
    path.write_bytes(b"".join((lines[0], *lines[2:])))
    report = verify(spoken.folder)
    assert report.lines == 3
    assert report.problems == (
        "Line 2 of the journal is damaged: it has seq 3 where 2 was due;"
        " line 2 of the log is missing, or out of order",
    )
    assert report.notices == ("'clips/u2.flac' belongs to no line; a crash can leave such a file",)


def test_a_line_that_is_no_json_is_passed_over(spoken: Journal) -> None:
    """The line after it shows that its bytes changed, the one after that is fine."""
    _edit(spoken, b'"utterance":"u3"', b'"utterance":"u3')
    report = verify(spoken.folder)
    assert [problem[:6] for problem in report.problems] == ["Line 3", "Line 4"]
    assert report.lines == 4


def test_ids_given_twice_are_a_problem(journal: Journal) -> None:
    """Utterances and entries alike; amending an entry names its id without giving it."""
    _say(journal)
    amend = {"do": "amend", "entry": "e2.1", "set": {}, "why": "probe"}
    journal.append("utterance", {"utterance": "u3", "changes": [amend]})
    assert verify(journal.folder).ok
    again = {"do": "add", "entry": _entry("e2.1")}
    journal.append("utterance", {"utterance": "u2", "changes": [again]})
    assert verify(journal.folder).problems == (
        "The id 'u2' was given more than once",
        "The id 'e2.1' was given more than once",
    )


@pytest.mark.parametrize("utterance", [None, 7, "", "7", ["u7"], "u7\x1b[2J"])
@pytest.mark.parametrize("kind", ["utterance", "clip-erased"])
def test_an_utterance_without_an_id_is_a_problem(
    journal: Journal, kind: str, utterance: object
) -> None:
    """What a stranger's log puts there is not trusted, and not printed."""
    journal.append(kind, {"utterance": utterance})
    assert verify(journal.folder).problems == ("Line 2 does not say which utterance it is about",)


@pytest.mark.parametrize("changes", [None, 7, [7], [{}], [{"entry": {}}], [{"entry": {"id": 7}}]])
def test_changes_that_nobody_can_read_are_a_problem(journal: Journal, changes: object) -> None:
    """Such a log does not open, and its check says why; it goes on, and tells nothing else for that."""
    journal.append("utterance", {"utterance": "u2", "changes": changes})
    journal.append("revised", {"did": "undo", "changes": [{"do": "restore", "entry": "e9.1"}]})
    assert verify(journal.folder).problems == ("Line 2 of the log holds a change nobody can read",)


def test_a_change_of_an_entry_that_is_not_there_is_a_problem(spoken: Journal) -> None:
    """Once for each line; one of an entry that an earlier line adds is none."""
    there, stranger = {"do": "withdraw", "entry": "e2.1"}, {"do": "withdraw", "entry": "e9\x1b.1"}
    spoken.append("revised", {"did": "withdraw", "changes": [there]})
    assert verify(spoken.folder).ok
    spoken.append("revised", {"did": "withdraw", "changes": [stranger]})
    assert verify(spoken.folder).problems == (
        "Line 6 changes the entry 'e9?.1', which no line before it adds",
    )


@pytest.mark.parametrize(
    "clip",
    [
        7,
        {},
        {"file": None},
        {"file": "clips/../../secret", "sha256": "0" * 64},
        {"file": "/etc/hostname", "sha256": "0" * 64},
        {"file": "journal.jsonl", "sha256": "0" * 64},
    ],
)
def test_a_clip_elsewhere_is_a_problem(journal: Journal, clip: object) -> None:
    """Nothing outside the log's clips is opened."""
    journal.append("utterance", {"utterance": "u2", "clip": clip})
    assert verify(journal.folder).problems == ("Line 2 does not say where its clip is",)


def test_two_utterances_cannot_have_one_clip(journal: Journal, clip: Clip) -> None:
    """The second line is told."""
    kept = journal.keep_clip("u2", clip)
    for utterance in ("u2", "u3"):
        journal.append("utterance", {"utterance": utterance, "clip": kept})
    assert verify(journal.folder).problems == ("Line 3 has the clip of another utterance",)


def test_an_erased_clip_may_be_missing(spoken: Journal) -> None:
    """A fact says so; only that clip is excused."""
    spoken.append("clip-erased", {"utterance": "u2"})
    (spoken.folder / "clips" / "u2.flac").unlink()
    assert verify(spoken.folder) == Report(lines=5, clips=1)
    (spoken.folder / "clips" / "u3.flac").unlink()
    assert verify(spoken.folder).problems == ("clips/u3.flac of u3 is missing",)


def test_an_erased_clip_still_there_is_noticed(spoken: Journal) -> None:
    """The program may have stopped before it was gone."""
    spoken.append("clip-erased", {"utterance": "u2"})
    report = verify(spoken.folder)
    assert report.ok
    assert report.notices == (
        "clips/u2.flac is still there, although a fact says that it was erased",
    )


def test_sound_without_a_fact_is_noticed(spoken: Journal, clip: Clip) -> None:
    """A crash between the two leaves it; it is no damage."""
    spoken.keep_clip("u5", clip)
    (spoken.folder / "clips" / "\x1b[2J.part").touch()
    report = verify(spoken.folder)
    assert report.ok
    assert report.notices == (
        "'clips/\\x1b[2J.part' belongs to no line; a crash can leave such a file",
        "'clips/u5.flac' belongs to no line; a crash can leave such a file",
    )


def test_a_torn_line_is_noticed(spoken: Journal) -> None:
    """It was never acknowledged, so nothing is damaged."""
    with (spoken.folder / "journal.jsonl").open("ab") as file:
        file.write(b'{"seq"')
    report = verify(spoken.folder)
    assert (report.ok, report.lines) == (True, 4)
    assert report.notices == (
        "Line 5 is torn after 6 bytes; it was never acknowledged, and is set aside when the log"
        " is next written to",
    )


def test_a_log_that_never_began_is_a_problem(spoken: Journal) -> None:
    """Its clips are told as well."""
    (spoken.folder / "journal.jsonl").write_bytes(b"{")
    report = verify(spoken.folder)
    assert report.problems == ("Line 1 was never finished, so the log holds nothing",)
    assert len(report.notices) == 2


def test_a_newer_log_cannot_be_checked(spoken: Journal) -> None:
    """That is not damage, so it is told as such."""
    _edit(spoken, b'"v":1', b'"v":2')
    with pytest.raises(LogFault, match=r"Line 1 .*format 2.*Install"):
        verify(spoken.folder)


def test_a_missing_log_cannot_be_checked(tmp_path: Path) -> None:
    """It is a fault of the input."""
    with pytest.raises(InputFault):
        verify(tmp_path)


def _sign(journal: Journal, **wrong: Any) -> None:
    seal = seal_of(journal.folder)
    body = {"by": "the shop", "lines": seal.lines, "sha256": seal.sha256, "open": []}
    journal.append("signed", body | wrong)


def _line(journal: Journal, number: int) -> bytes:
    return (journal.folder / "journal.jsonl").read_bytes().splitlines()[number - 1]


def test_a_signature_is_noticed_and_its_seal_handed_over(spoken: Journal) -> None:
    """The hash of its line is what the next line would carry."""
    _sign(spoken, open=["Left rail: doubtful (e2.1)"], why="sold as seen")
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
    _sign(spoken)
    spoken.append("listened", {"utterance": "u2", "by": "the shop"})
    spoken.append("revised", {"did": "withdraw", "changes": [{"do": "withdraw", "entry": "e2.1"}]})
    assert "1 change was made after signing (line 7)" in verify(spoken.folder).notices
    _say(spoken)
    assert "2 changes were made after signing (lines 7, 8)" in verify(spoken.folder).notices
    spoken.append("vehicle", {"set": {"odometer": "60 000 km"}, "by": "Sam"})
    assert "3 changes were made after signing (lines 7, 8, 9)" in verify(spoken.folder).notices
    _sign(spoken)
    report = verify(spoken.folder)
    assert [notice[:6] for notice in report.notices] == ["Signed", "Signed"]
    assert (report.ok, report.seal) == (True, digest(_line(spoken, 10)))


def test_many_changes_after_signing_are_counted_not_all_listed(spoken: Journal) -> None:
    """A line of a screen holds no thousand numbers."""
    _sign(spoken)
    for _ in range(30):
        _say(spoken)
    [_, told] = verify(spoken.folder).notices
    assert told.startswith("30 changes were made after signing (lines 6, 7, 8,")
    assert told.endswith("17 and 18 more)")


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
    _sign(spoken, **wrong)
    assert verify(spoken.folder) == Report(lines=5, clips=2, problems=(told,))


def test_lines_written_anew_after_signing_do_not_fit_the_signature(spoken: Journal) -> None:
    """Somebody who mends the whole chain but not the signature is found out."""
    _sign(spoken)
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
    _sign(spoken, by="\x1b[2J" + "x" * 500)
    [notice] = verify(spoken.folder).notices
    assert notice.isprintable()
    assert len(notice) < 120


def test_what_was_said_again_at_the_bench_is_checked_like_an_utterance(
    spoken: Journal, clip: Clip
) -> None:
    """Its id, its clip and the ids of new entries; a correction without words has none."""
    kept = spoken.keep_clip("u5", clip)
    add = {"do": "add", "entry": _entry("e5.1")}
    spoken.append("revised", {"utterance": "u5", "clip": kept, "changes": [add]})
    spoken.append("revised", {"did": "split", "changes": [{**add, "entry": _entry("e6.1")}]})
    assert verify(spoken.folder) == Report(lines=6, clips=3)
    (spoken.folder / "clips" / "u5.flac").unlink()
    spoken.append("revised", {"did": "add", "changes": [add]})
    spoken.append("revised", {"utterance": "five"})
    assert verify(spoken.folder).problems == (
        "Line 8 does not say which utterance it is about",
        "The id 'e5.1' was given more than once",
        "clips/u5.flac of u5 is missing",
    )


def test_an_entry_that_is_replaced_keeps_its_id(spoken: Journal) -> None:
    """That is no id given twice."""
    replaced = {"do": "replace", "entry": _entry("e2.1")}
    spoken.append("revised", {"did": "reread", "changes": [replaced]})
    assert verify(spoken.folder).ok


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


def test_behind_a_line_that_does_not_follow_nobody_knows_what_was_added(spoken: Journal) -> None:
    """A change of an entry that a lost line may have added is no second problem."""
    spoken.append("revised", {"did": "withdraw", "changes": [{"do": "withdraw", "entry": "e2.1"}]})
    path = spoken.folder / "journal.jsonl"
    lines = path.read_bytes().splitlines(keepends=True)
    path.write_bytes(b"".join((lines[0], *lines[2:])))
    assert len(verify(spoken.folder).problems) == 1
    path.write_bytes(b"".join((lines[0], b"noise\n", *lines[2:])))
    assert not [
        problem for problem in verify(spoken.folder).problems if "no line before" in problem
    ]
