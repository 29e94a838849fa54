"""Checking a log against itself."""

from __future__ import annotations

from pathlib import Path

import pytest
from said_lines import entry, say

from voicelog.domain.fact import Fact
from voicelog.domain.sound import Clip
from voicelog.errors import InputFault, LogFault
from voicelog.journal.journal import Journal
from voicelog.journal.lines import digest, encode
from voicelog.journal.reading import Report, verify


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
    say(journal)
    amend = {"do": "amend", "entry": "e2.1", "set": {}, "why": "probe"}
    journal.append("utterance", {"utterance": "u3", "changes": [amend]})
    assert verify(journal.folder).ok
    again = {"do": "add", "entry": entry("e2.1")}
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


def test_an_altered_end_is_a_problem_beside_all_others(spoken: Journal) -> None:
    """What lies in front of it is checked all the same."""
    path = spoken.folder / "journal.jsonl"
    path.write_bytes(path.read_bytes()[:-1] + b"*")
    (spoken.folder / "clips" / "u2.flac").unlink()
    report = verify(spoken.folder)
    assert report.lines == 3
    assert report.problems == (
        "Line 4 of the journal is damaged: it is whole, and does not end as a line of the journal does",
        "clips/u2.flac of u2 is missing",
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


def test_what_was_said_again_at_the_bench_is_checked_like_an_utterance(
    spoken: Journal, clip: Clip
) -> None:
    """Its id, its clip and the ids of new entries; a correction without words has none."""
    kept = spoken.keep_clip("u5", clip)
    add = {"do": "add", "entry": entry("e5.1")}
    spoken.append("revised", {"utterance": "u5", "clip": kept, "changes": [add]})
    spoken.append("revised", {"did": "split", "changes": [{**add, "entry": entry("e6.1")}]})
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
    replaced = {"do": "replace", "entry": entry("e2.1")}
    spoken.append("revised", {"did": "reread", "changes": [replaced]})
    assert verify(spoken.folder).ok


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


def test_behind_a_line_nobody_can_read_nobody_knows_what_was_added(spoken: Journal) -> None:
    """Not even where the next line was written after it, as its hash tells."""
    path = spoken.folder / "journal.jsonl"
    first = path.read_bytes().splitlines()[0]
    change = {"changes": [{"do": "withdraw", "entry": "e2.1"}]}
    at = "2026-03-14T09:05:30.250Z"
    behind = encode(Fact(3, at, 3.0, digest(b"noise"), "revised", change))
    path.write_bytes(b"".join(line + b"\n" for line in (first, b"noise", behind)))
    assert verify(spoken.folder).problems == ("Line 2 of the journal is damaged: it is not JSON",)
