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
from voicelog.journal.late_fact import LateFact, SkimmedBody, skim
from voicelog.journal.lines import decode, encode
from voicelog.journal.reading import Walk, iter_facts, kept, read_log
from voicelog.journal.seal import Known, seal_of

LINES = 12
LINE = encode(Fact(3, "2026-01-05T08:00:00Z", 1.0, "a" * 64, "note", {"text": "rust"}))


@pytest.fixture
def folder(journal: Journal, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A log of a dozen lines that counts as a long one."""
    monkeypatch.setattr(late_body, "LONG", 4_000)
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
    assert [isinstance(fact, LateFact) for fact in facts] == [False] + [True] * (LINES - 1)
    assert [(f.at, f.prev, f.offset_s) for f in facts] == [
        (f.at, f.prev, f.offset_s) for f in whole
    ]
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
    kept(Walk(folder), lambda fact: kinds.append(type(fact.body)))
    assert kinds == [dict] * LINES


def test_a_log_of_a_day_stays_in_memory(journal: Journal) -> None:
    """Below the limit nothing is read twice."""
    journal.append("utterance", {"utterance": "u2", "changes": []})
    journal.close()
    assert [type(fact) for fact in read_log(journal.folder).facts] == [Fact, Fact]


def test_lines_that_were_checked_before_are_only_skimmed(folder: Path) -> None:
    """They say the same, and their bodies are read when somebody asks."""
    first = Walk(folder)
    whole = tuple(first)
    again = Walk(folder, first.known)
    facts = tuple(again)
    assert (again.checked, again.chain, again.last, again.known) == (
        LINES, first.chain, first.last, first.known,
    )  # fmt: skip
    assert all(isinstance(fact.body, SkimmedBody) for fact in facts)
    assert [(f.seq, f.at, f.offset_s, f.prev, f.type, dict(f.body)) for f in facts] == [
        (f.seq, f.at, f.offset_s, f.prev, f.type, dict(f.body)) for f in whole
    ]


def test_what_is_known_of_other_lines_is_not_believed(folder: Path) -> None:
    """One byte that differs, and every line is checked."""
    known, path = _known(folder), folder / "journal.jsonl"
    path.write_bytes(path.read_bytes().replace(b"rust", b"dust"))
    walk = Walk(folder, known)
    with pytest.raises(LogFault, match="Line 3 of the journal is damaged"):
        tuple(walk)
    assert walk.checked == 0


def test_a_shorter_file_is_not_believed(folder: Path) -> None:
    """Lines that were cut off at the end are no known lines any more."""
    known, path = _known(folder), folder / "journal.jsonl"
    path.write_bytes(b"".join(path.read_bytes().splitlines(keepends=True)[:-1]))
    walk = Walk(folder, known)
    assert (len(tuple(walk)), walk.checked) == (LINES - 1, 0)


def test_lines_behind_the_known_ones_are_checked(folder: Path) -> None:
    """What came since has to follow from them; a signature of them all is believed."""
    known = _known(folder)
    with Journal.reopen(folder) as journal:
        journal.append("note", {"text": "later"})
    walk = Walk(folder, known)
    assert len(tuple(walk)) == LINES + 1
    assert walk.checked == LINES
    assert walk.known.sha256 == seal_of(folder).sha256
    path = folder / "journal.jsonl"
    path.write_bytes(path.read_bytes().replace(b'"seq":13', b'"seq":14'))
    with pytest.raises(LogFault, match="seq 14 where 13 was due"):
        tuple(Walk(folder, known))


def _known(folder: Path) -> Known:
    walk = Walk(folder)
    assert len(tuple(walk)) == LINES
    return walk.known


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
    monkeypatch.setattr(late_body, "LONG", 1)
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


def test_a_log_is_long_above_eight_mebibytes(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """One that has just as many bytes stays in memory."""
    size = (folder / "journal.jsonl").stat().st_size
    for most, late in ((size, False), (size - 1, True)):
        monkeypatch.setattr(late_body, "LONG", most)
        assert isinstance(read_log(folder).facts[-1], LateFact) == late
    monkeypatch.undo()
    assert late_body.LONG == 2**23


def test_the_name_of_an_utterance_is_in_memory_once(folder: Path) -> None:
    """A long log has as many as lines, and its entries hold them, too."""
    fact = read_log(folder).facts[-1]
    (change,) = changes_of(fact)
    assert isinstance(change, Add)
    assert fact.body["utterance"] is change.entry.utterance


def test_an_entry_of_another_utterance_gives_a_line_no_other_name(folder: Path) -> None:
    """Nor does a change of one, which has no utterance of its own."""
    made = Entry("e13.1", "u2", "2026-01-05T08:00:00Z", Kind.CLEAR)
    with Journal.reopen(folder) as journal:
        for change in (change_to_json(Add(made)), {"do": "withdraw", "entry": "e13.1"}):
            told = {"utterance": f"u{journal.next_seq}", "changes": [change]}
            journal.append("utterance", told)
    assert [fact.body["utterance"] for fact in read_log(folder).facts[-2:]] == ["u13", "u14"]


def test_a_fact_read_late_is_like_no_other(folder: Path) -> None:
    """Only like the same one, read at once."""
    *_, before, last = read_log(folder).facts
    assert last != before
    assert last != tuple(iter_facts(folder))[-2]
    assert last != last.seq


@pytest.mark.parametrize(
    "line", [b"noise", b"{}", b"[]", LINE.replace(b'"offset_s":1.0', b'"offset_s":1e999')]
)
def test_what_never_was_a_line_is_told_by_whoever_skims_it(line: bytes) -> None:
    """As by whoever reads all of it."""
    with pytest.raises(LogFault, match="Line 3 of the journal is damaged"):
        skim(line, 3)


def test_half_a_letter_is_skimmed_as_it_is_read() -> None:
    """Half a surrogate pair, which the quick reader does not take."""
    line = LINE.replace(b"rust", b"\\udcff")
    assert dict(skim(line, 3).body) == dict(decode(line, 3).body) == {"text": "\udcff"}
