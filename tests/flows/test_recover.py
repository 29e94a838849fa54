"""A damaged log of every kind is named, and what is whole of it becomes a new log."""

from __future__ import annotations

import json
import random
import shutil
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
from spoken_log import SAID, spoken_log

from voicelog.config.settings import Settings
from voicelog.domain.entry import Inspection
from voicelog.domain.fact import Fact
from voicelog.errors import LockedFault, LogFault, UsageFault
from voicelog.export.contract import validate
from voicelog.findings.ledger import fold
from voicelog.journal.journal import Journal
from voicelog.journal.reading import read_log, verify
from voicelog.runtime.damaged import Plan, is_damaged, plan_recovery
from voicelog.runtime.logs import document_of, open_log
from voicelog.runtime.recovering import Recovered, recover
from voicelog.runtime.review import Review

Run = Callable[..., Any]
LAST = len(SAID) + 2


@pytest.fixture(scope="module")
def spoken(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """That inspection, said once: line 1 opens it, 2 to 6 are what was said, 7 closes it."""
    return spoken_log(tmp_path_factory.mktemp("said"))


@pytest.fixture(scope="module")
def other(tmp_path_factory: pytest.TempPathFactory) -> list[bytes]:
    """The lines of another one."""
    folder = spoken_log(tmp_path_factory.mktemp("other"), SAID[:4], noise=2)
    return (folder / "journal.jsonl").read_bytes().splitlines(keepends=True)


@pytest.fixture
def log(spoken: Path, tmp_path: Path) -> Path:
    """A copy of it to be damaged."""
    return shutil.copytree(spoken, tmp_path / "logs" / "pickup")


@pytest.fixture
def lines(log: Path) -> list[bytes]:
    """Its lines as they were written."""
    return (log / "journal.jsonl").read_bytes().splitlines(keepends=True)


def damaged(log: Path, *lines: bytes) -> None:
    """Puts other lines in the place of its own."""
    (log / "journal.jsonl").write_bytes(b"".join(lines))


def bytes_of(folder: Path) -> dict[str, bytes]:
    """Every file below a folder."""
    files = (path for path in sorted(folder.rglob("*")) if path.is_file())
    return {path.relative_to(folder).as_posix(): path.read_bytes() for path in files}


def recovered(log: Path) -> tuple[Plan, Recovered]:
    """What is recovered of it; the new log holds by itself, and the old one is as it was."""
    before = bytes_of(log)
    plan = plan_recovery(log)
    new = recover(plan)
    assert bytes_of(log) == before
    assert (new.check.problems, new.trouble) == ((), "")
    for fact in read_log(new.folder).facts:
        validate({"v": 1, **_envelope(fact), **fact.body}, "fact")
    return plan, new


def _envelope(fact: Fact) -> dict[str, Any]:
    names = ("seq", "at", "offset_s", "prev", "type")
    return {name: getattr(fact, name) for name in names}


def facts_but_first(folder: Path) -> list[tuple[int, str, Any]]:
    """What the lines say, behind the one that opened the log."""
    return [(fact.seq, fact.type, fact.body) for fact in read_log(folder).facts[1:]]


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


def _flips(text: bytes, chance: random.Random, times: int) -> Iterator[tuple[int, bytes]]:
    for _ in range(times):
        place = chance.randrange(len(text))
        turned = text[place] ^ (1 << chance.randrange(8))
        yield place, text[:place] + bytes((turned,)) + text[place + 1 :]


def _folded(folder: Path, grammar: Any) -> Inspection:
    return fold(read_log(folder).facts, grammar.zone_map, grammar.rules)


def test_one_bit_anywhere_is_found_again(log: Path, lines: list[bytes], tmp_path: Path) -> None:
    """At 300 places: every line but the last comes back as it was written, by its hash."""
    text, before, opened = b"".join(lines), facts_but_first(log), open_log(log)
    behind = len(text) - len(lines[-1])
    for number, (place, flipped) in enumerate(_flips(text, random.Random(20260314), 300)):
        (log / "journal.jsonl").write_bytes(flipped)
        if place < behind:
            assert is_damaged(log), place
        plan = plan_recovery(log)
        found = [(fact.seq, fact.type, fact.body) for fact in plan.facts()]
        last = len(before) if place < behind else len(before) - 1
        assert found[:last] == before[:last], place
        if number % 50 == 0:
            new = recover(plan, tmp_path / "new")
            assert (new.check.ok, facts_but_first(new.folder)) == (True, found), place
            same = _folded(new.folder, opened.grammar).findings
            assert same == opened.inspection.findings, place
            shutil.rmtree(new.folder)
        assert (log / "journal.jsonl").read_bytes() == flipped


def test_cut_after_every_byte(tmp_path: Path) -> None:
    """A log of three short lines: whatever is whole is recovered, and the rest is kept beside."""
    grammar = {"maps/ladder-frame.toml": b"# no places\n"}
    with Journal.create(tmp_path, opened={"map": "ladder-frame"}, grammar=grammar) as journal:
        journal.append("gap", {"why": "nobody knows"})
        journal.append("closed", {"reason": "finished"})
    text = (journal.folder / "journal.jsonl").read_bytes()
    first = text.index(b"\n")
    for cut in range(len(text)):
        (journal.folder / "journal.jsonl").write_bytes(text[:cut])
        if cut < first:
            with pytest.raises(LogFault, match="Nothing in the journal can be recovered"):
                plan_recovery(journal.folder)
            continue
        plan = plan_recovery(journal.folder)
        whole = text[: cut + 1].count(b"\n")
        assert (len(plan.taken.lines), plan.told.lost) == (whole, [])
        torn = b"" if text[cut : cut + 1] == b"\n" else text[:cut].rpartition(b"\n")[2]
        assert b"".join(rest.data for rest in plan.missing) == torn


def test_lost_and_altered_clips_are_told(log: Path) -> None:
    """The line says that its sound is lost; a clip that was altered is kept as one of nobody."""
    (log / "clips" / "u2.flac").unlink()
    (log / "clips" / "u3.flac").write_bytes(b"noise")
    plan, new = recovered(log)
    assert plan.told.silent == ["clips/u2.flac", "clips/u3.flac"]
    assert plan.orphans == ("clips/u3.flac",)
    assert (new.folder / "clips" / "u3.flac").read_bytes() == b"noise"
    assert "clip_lost" in read_log(new.folder).facts[1].body


def test_a_grammar_file_comes_from_the_shipped_words(log: Path) -> None:
    """Where these are the same still; one that nobody has is told of, and used as it is."""
    own, rules = log / "grammar", log / "grammar" / "rules" / "frame.toml"
    text = rules.read_text(encoding="utf-8")
    rules.unlink()
    (own / "words" / "conditions.toml").write_text("# emptied\n", encoding="utf-8")
    plan, new = recovered(log)
    assert plan.grammar.problems == ()
    assert (new.folder / "grammar" / "rules" / "frame.toml").read_text(encoding="utf-8") == text


def test_links_lead_nowhere(log: Path, lines: list[bytes], tmp_path: Path) -> None:
    """A clip that is a link is lost sound, and what it leads to is not copied."""
    (tmp_path / "secret").write_text("not yours", encoding="utf-8")
    (log / "clips" / "u2.flac").unlink()
    (log / "clips" / "u2.flac").symlink_to(tmp_path / "secret")
    plan, new = recovered(log)
    assert plan.told.silent == ["clips/u2.flac"]
    assert b"not yours" not in b"".join(bytes_of(new.folder).values())


def test_a_log_that_is_written_is_left_alone(log: Path) -> None:
    """And none is put into itself."""
    with Journal.reopen(log), pytest.raises(LockedFault):
        plan_recovery(log)
    with pytest.raises(UsageFault, match="would lie in the damaged one"):
        recover(plan_recovery(log), log / "clips")


def test_the_command(run: Run, log: Path, lines: list[bytes], tmp_path: Path) -> None:
    """Tried first, then done; the new log is checked, opened, exported, and says where it is from."""
    assert "The log is whole; there is nothing to recover" in run("recover", log).stdout
    broken = bytearray(lines[2])
    broken[400:410] = b"\x1b[31mevil!"
    damaged(log, *lines[:2], bytes(broken), *lines[3:])
    before = bytes_of(log)
    tried = run("recover", log, "--dry-run")
    assert (tried.returncode, tried.stderr) == (0, "")
    assert "6 of 7 lines can be recovered" in tried.stdout
    assert "Nothing was written" in tried.stdout
    assert not (log.parent / "pickup-recovered").exists()
    done = run("recover", log, "--into", tmp_path / "rescued")
    assert (done.returncode, "\x1b" in done.stdout + done.stderr) == (0, False)
    assert "Numbers that stay empty: 3. What was said there is missing" in done.stdout
    new = tmp_path / "rescued" / "pickup-recovered"
    assert bytes_of(log) == before
    (piece,) = (new / "left-out.jsonl").read_text(encoding="ascii").splitlines()
    assert json.loads(piece)["line"] == 3
    checked = run("verify", new)
    assert checked.returncode == 0, checked.stderr
    assert "note: Recovered on " in checked.stdout
    assert "Lines that could not be recovered, or not in full: 3" in checked.stdout
    assert (
        "2 lines are lost in whole or in part, and what was said there may be worse"
        in checked.stdout
    )
    assert "nothing was lost" not in checked.stdout
    document = json.loads(run("export", new).stdout)
    validate(document, "inspection")
    assert "could not be recovered" in document["cautions"][0]
    first = read_log(new).facts[0].body
    old = json.loads(lines[0])
    assert first["recovered_from"]["log_id"] == old["log_id"] != first["log_id"]
    assert "could not be recovered" in run("sign", new, "--list").stdout


def test_signatures_no_longer_vouch(run: Run, log: Path) -> None:
    """They are kept as what they were, and told of; nothing counts the new log as signed."""
    assert run("sign", log, "--by", "Sam", "--why", "as it is").returncode == 0
    lines = (log / "journal.jsonl").read_bytes().splitlines(keepends=True)
    damaged(log, *lines[:2], *lines[3:])
    _plan, new = recovered(log)
    assert any("was a signature of Sam" in notice for notice in new.check.notices)
    assert document_of(open_log(new.folder))["log"].get("signatures") is None


def test_nothing_at_all_is_a_sentence(run: Run, log: Path) -> None:
    """Exit code 5, and no folder."""
    damaged(log, b"\x00" * 5000)
    done = run("recover", log)
    assert (done.returncode, done.stdout) == (5, "")
    assert "Nothing in the journal can be recovered" in done.stderr
    assert [path.name for path in log.parent.iterdir()] == ["pickup"]
