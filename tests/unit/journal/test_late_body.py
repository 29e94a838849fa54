"""Logs so long that their bodies do not stay in memory."""

from __future__ import annotations

from pathlib import Path

import pytest

from voicelog.domain.change_json import change_to_json
from voicelog.domain.entry import Add, Entry, Kind
from voicelog.domain.fact import Fact, changes_of
from voicelog.errors import InputFault, LogFault
from voicelog.journal import late_body, reading
from voicelog.journal.journal import Journal
from voicelog.journal.late_body import LateBody
from voicelog.journal.lines import decode
from voicelog.journal.reading import iter_facts, read_log

LINES, WHOLE = 12, 4


@pytest.fixture
def folder(journal: Journal, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A log of a dozen lines, of which four count as many."""
    monkeypatch.setattr(late_body, "WHOLE", WHOLE)
    for number in range(2, LINES + 1):
        made = Entry(f"e{number}.1", f"u{number}", "2026-01-05T08:00:00Z", Kind.CLEAR)
        body = {"utterance": f"u{number}", "heard": ["rust " * 100, number]}
        journal.append("utterance", body | {"changes": [change_to_json(Add(made))]})
    journal.close()
    return journal.folder


def test_nothing_is_seen_of_it(folder: Path) -> None:
    """Every fact says the same as when it was in memory: keys, values, changes."""
    facts, whole = read_log(folder).facts, tuple(iter_facts(folder))
    assert facts == whole
    assert [isinstance(fact.body, LateBody) for fact in facts] == [False] * 4 + [True] * 8
    assert [list(fact.body) for fact in facts] == [list(fact.body) for fact in whole]
    assert [changes_of(fact) for fact in facts] == [changes_of(fact) for fact in whole]
    last = facts[-1].body
    assert (last["heard"][1], last.get("clip"), "heard" in last, "clip" in last) == (
        12,
        None,
        True,
        False,
    )


def test_folding_reads_each_line_once(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """What the lines change is known by then; only who asks for more has a line read again, once."""
    read: list[int] = []

    def noted(line: bytes, number: int) -> Fact:
        read.append(number)
        return decode(line, number)

    monkeypatch.setattr(reading, "decode", noted)
    monkeypatch.setattr(late_body, "decode", noted)
    facts = read_log(folder).facts
    assert sum(len(changes_of(fact)) for fact in facts) == LINES - 1
    assert len(read) == LINES
    assert facts[-1].body["heard"] == facts[-1].body["heard"]
    assert len(read) == LINES + 1


def test_every_fact_is_shown_while_all_of_it_is_there(folder: Path) -> None:
    """Whoever checks lines reads none of them a second time."""
    kinds: list[type] = []

    def shown(fact: Fact) -> Fact:
        kinds.append(type(fact.body))
        return fact

    read_log(folder, shown)
    assert kinds == [dict] * LINES


def test_a_file_changed_meanwhile_is_not_believed(folder: Path) -> None:
    """What is read again has to be what was read."""
    fact = read_log(folder).facts[-1]
    path = folder / "journal.jsonl"
    path.write_bytes(path.read_bytes().replace(b"rust", b"dust"))
    with pytest.raises(LogFault, match="changed while it was being read"):
        fact.body["heard"]


def test_a_change_nobody_can_read_is_told_by_whoever_asks(
    journal: Journal, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Reading a log does not fold it: the fault comes when it is folded, as in a short log."""
    monkeypatch.setattr(late_body, "WHOLE", 1)
    journal.append("utterance", {"changes": [{"do": "dance"}], "text": "rust " * 100})
    journal.close()
    fact = read_log(journal.folder).facts[-1]
    with pytest.raises(LogFault, match="Line 2 of the log holds a change nobody can read"):
        changes_of(fact)


def test_for_a_key_that_it_does_not_have_nothing_is_read(folder: Path) -> None:
    """The file may be gone by then."""
    fact = read_log(folder).facts[-1]
    (folder / "journal.jsonl").unlink()
    with pytest.raises(KeyError, match="clip"):
        fact.body["clip"]
    with pytest.raises(InputFault):
        fact.body["heard"]
