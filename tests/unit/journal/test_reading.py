"""Reading a log."""

from __future__ import annotations

import hashlib
import json
import subprocess
import sys
import tracemalloc
from pathlib import Path

import pytest

from voicelog.errors import InputFault, LogFault
from voicelog.journal.chain import Chain
from voicelog.journal.journal import Journal
from voicelog.journal.lines import encode
from voicelog.journal.reading import Walk, iter_facts, read_log
from voicelog.journal.seal import seal_of

EXAMPLE = Path(__file__).parents[3] / "shared" / "examples" / "valid" / "journal.jsonl"


@pytest.fixture
def folder(journal: Journal) -> Path:
    """A log of six facts, closed."""
    for n in range(2, 7):
        journal.append("utterance", {"utterance": f"u{n}", "text": f"rust number {n}"})
    journal.close()
    return journal.folder


def test_all_facts_come_in_order(folder: Path) -> None:
    """At once, or one by one."""
    log = read_log(folder)
    assert (log.folder, log.torn) == (folder, "")
    assert [fact.seq for fact in log.facts] == [1, 2, 3, 4, 5, 6]
    assert tuple(iter_facts(folder)) == log.facts


def test_a_pass_over_the_lines_begins_with_nothing(folder: Path) -> None:
    """And ends with the last of them, and nothing torn behind it."""
    walk, whole = Walk(folder), (folder / "journal.jsonl").read_bytes()
    assert (walk.chain, walk.checked, walk.last, walk.torn) == (Chain(), 0, b"", b"")
    last = list(walk)[-1]
    assert walk.chain.lines == last.seq == 6
    assert whole.endswith(b"\n" + walk.last + b"\n")
    assert (walk.checked, walk.torn) == (0, b"")
    assert walk.known.sha256 == hashlib.sha256(whole).hexdigest()


def test_a_torn_last_line_is_told_and_nothing_changed(folder: Path) -> None:
    """The whole lines before it are read; the file stays as it is."""
    path = folder / "journal.jsonl"
    cut = path.read_bytes()[:-9]
    path.write_bytes(cut)
    log = read_log(folder)
    assert [fact.seq for fact in log.facts] == [1, 2, 3, 4, 5]
    torn = len(cut.split(b"\n")[-1])
    assert log.torn == f"Line 6 is torn after {torn} bytes and was never acknowledged"
    assert len(tuple(iter_facts(folder))) == 5
    assert path.read_bytes() == cut


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        (b"rust number 3", b"dust number 3", r"Line 4 .*the line before it"),
        (b"\n", b"\r\n", r"Line 1 .*carriage return"),
        (b'"seq":4,', b'"seq":8,', r"Line 4 .*seq 8 where 4 was due"),
        (b'"text":"rust number 5"', b'"text":"rust number 5', r"Line 5 .*not JSON"),
        (b'"v":1,"utterance":"u3"', b'"utterance":"u3"', r"Line 3 .*'v' is missing or wrong"),
        (b'"v":1,"utterance":"u3"', b'"v":9,"utterance":"u3"', r"Line 3 .*format 9.*Install"),
        (b'"type":"opened"', b'"type":"closed"', r"Line 1 .*how the log was opened"),
    ],
)
def test_damage_is_told_with_its_line(folder: Path, old: bytes, new: bytes, said: str) -> None:
    """And what to do about it."""
    path = folder / "journal.jsonl"
    path.write_bytes(path.read_bytes().replace(old, new))
    with pytest.raises(LogFault, match=said) as caught:
        read_log(folder)
    assert caught.value.exit_code == 5


@pytest.mark.parametrize(
    ("wrong", "said"),
    [
        ({"lines": 5}, r"Line 8 .*it signs 5 lines, but 7 stand before it"),
        ({"sha256": "0" * 64}, r"Line 8 .*it signs other lines than the 7"),
    ],
)
def test_a_log_whose_signature_is_of_other_lines_is_not_read(
    folder: Path, wrong: dict[str, object], said: str
) -> None:
    """Nor gone on with, although a signature that holds stands in front of it."""
    for more in ({}, wrong):
        seal = seal_of(folder)
        body = {"by": "the shop", "lines": seal.lines, "sha256": seal.sha256, "open": []}
        with Journal.reopen(folder) as journal:
            journal.append("signed", body | more)
    for refused in (read_log, Journal.reopen):
        with pytest.raises(LogFault, match=said):
            refused(folder)


def test_a_log_signed_twice_is_read(folder: Path) -> None:
    """Each time what stood there; the second covers the first."""
    for _ in range(2):
        seal = seal_of(folder)
        body = {"by": "the shop", "lines": seal.lines, "sha256": seal.sha256, "open": []}
        with Journal.reopen(folder) as journal:
            journal.append("signed", body)
    assert [fact.type for fact in read_log(folder).facts[-2:]] == ["signed", "signed"]


def test_facts_before_the_damage_can_still_be_read(folder: Path) -> None:
    """One by one, up to the damaged line."""
    path = folder / "journal.jsonl"
    path.write_bytes(path.read_bytes().replace(b'"seq":5', b'"seq":7'))
    walk = Walk(folder)
    with pytest.raises(LogFault, match="Line 5"):
        list(walk)
    assert walk.chain.lines == 4


def test_an_empty_journal_holds_nothing(folder: Path) -> None:
    """The program stopped before its first line."""
    (folder / "journal.jsonl").write_bytes(b"")
    with pytest.raises(LogFault, match=r"Line 1 .*holds nothing"):
        read_log(folder)


def test_a_missing_log_is_a_fault_of_the_input(tmp_path: Path) -> None:
    """Exit code 3, as for any file that is not there."""
    with pytest.raises(InputFault, match=r"no log at") as caught:
        read_log(tmp_path / "nothing")
    assert caught.value.exit_code == 3


def test_the_contracts_example_is_a_journal(tmp_path: Path) -> None:
    """What is published as valid can be read, and is what this program would have written."""
    (tmp_path / "journal.jsonl").write_bytes(EXAMPLE.read_bytes())
    facts = read_log(tmp_path).facts
    assert facts[0].type == "opened"
    written = [json.loads(line) for line in EXAMPLE.read_bytes().splitlines()]
    assert [json.loads(encode(fact)) for fact in facts] == written


def test_facts_are_read_one_at_a_time(folder: Path) -> None:
    """Memory does not grow with the journal: 2,000 lines of 2 kB pass through less than 0.5 MB."""
    with Journal.reopen(folder) as journal:
        journal.append("utterance", {"utterance": "u7", "text": "x" * 2000})
    walk = Walk(folder)
    last = list(walk)[-1]
    with (folder / "journal.jsonl").open("ab") as file:
        chain = walk.chain
        for seq in range(8, 2008):
            fact = type(last)(seq, last.at, last.offset_s, chain.prev, last.type, last.body)
            line = encode(fact)
            file.write(line + b"\n")
            chain = chain.after(fact, line)
    tracemalloc.start()
    count = sum(1 for _ in iter_facts(folder))
    _, peak = tracemalloc.get_traced_memory()
    tracemalloc.stop()
    assert count == 2007
    assert peak < 500_000


def test_reading_loads_nothing_heavy() -> None:
    """Start-up counts: neither sound nor lock libraries are needed to read, or to be imported."""
    code = (
        "import sys, voicelog.journal.journal, voicelog.journal.reading;"
        "print(sorted({'numpy', 'soundfile', 'filelock', 'pydantic'} & set(sys.modules)))"
    )
    ran = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert ran.stdout == "[]\n"
