"""The worked readers of ``shared/readers``: both say the same, and the same as the program's own fold.

``VOICELOG_NEEDS_NODE=1`` makes it a failure where Node is missing: continuous integration sets it.
"""

from __future__ import annotations

import ast
import hashlib
import json
import os
import re
import shutil
import subprocess
import sys
from collections import Counter
from collections.abc import Iterable, Mapping
from pathlib import Path
from typing import Any, NamedTuple

import pytest
from spoken_log import spoken_log

from voicelog.api import document_of, open_log
from voicelog.config.grammar import load_grammar
from voicelog.domain.entry import Inspection, Kind
from voicelog.findings.ledger import fold
from voicelog.journal.lines import decode

SHARED = Path(__file__).parents[2] / "shared"
READERS, VALID = SHARED / "readers", SHARED / "examples" / "valid"
PAGE = (SHARED / "CONTRACT.md").read_text("utf-8")
NODE = shutil.which("node")
NEEDED = os.environ.get("VOICELOG_NEEDS_NODE") == "1"

without_node = pytest.mark.skipif(NODE is None and not NEEDED, reason="no node here")
both = pytest.mark.parametrize(
    "language", ["python", pytest.param("javascript", marks=without_node)]
)
COMMANDS = {
    "python": [sys.executable, "-B", str(READERS / "python" / "reader.py")],
    "javascript": [NODE or "node", str(READERS / "javascript" / "reader.mjs")],
}
SAID = (
    "left front rail, surface rust, scraped it, metal is firm",
    "right control arm mount, hole, goes through",
    "left mid rail, heavy scale",
    "tow hitch, crack",
    "disregard",
    "not seen, left control arm mount, inside, splash shield in the way",
    "the rail on the right has a hole",
)
"""Firm, unsafe, unproven, taken back, not seen, and one of which nobody knows where it is."""


class Log(NamedTuple):
    """A log's folder, and what it comes to."""

    folder: Path
    inspection: Inspection


def _run(language: str, *arguments: object) -> subprocess.CompletedProcess[str]:
    command = [*COMMANDS[language], *map(str, arguments)]
    return subprocess.run(command, capture_output=True, encoding="utf-8", timeout=60, check=False)


def _read(language: str, *paths: Path) -> list[dict[str, Any]]:
    """What the reader says of each file, as a program would take it."""
    return [json.loads(line) for line in _run(language, "--json", *paths).stdout.splitlines()]


def _chained(facts: Iterable[Mapping[str, Any]]) -> list[bytes]:
    """Lines of a journal, each with its number and the hash of the one before."""
    lines, seal = [], "0" * 64
    for number, fact in enumerate(facts, 1):
        line = json.dumps({"v": 1, "seq": number, "prev": seal, **fact}).encode()
        lines.append(line + b"\n")
        seal = hashlib.sha256(line).hexdigest()
    return lines


def _journal(path: Path, *facts: Mapping[str, Any]) -> Path:
    path.write_bytes(b"".join(_chained(({"type": "opened", "log_id": "log"}, *facts))))
    return path


def _hole(name: str, grade: str | None, **more: Any) -> dict[str, Any]:
    """The line of an utterance that adds a finding."""
    entry = {"id": name, "kind": "finding", "slots": {"zone": "sill", "condition": "hole"}, **more}
    told = {"graded": {name: {"grade": grade, "rules": []}}} if grade else {}
    return {"type": "utterance", "changes": [{"do": "add", "entry": entry}], **told}


@pytest.fixture(scope="module")
def log(tmp_path_factory: pytest.TempPathFactory) -> Log:
    """A log that was really spoken, folded by the program itself; its document lies in it."""
    folder = spoken_log(tmp_path_factory.mktemp("readers"), SAID)
    opened = open_log(folder)
    document = json.dumps(document_of(opened))
    (folder / "inspection.json").write_text(document, encoding="utf-8")
    return Log(folder, opened.inspection)


def _grades(log: Log) -> Counter[str]:
    found = [one for one in log.inspection.live if one.entry.kind is Kind.FINDING]
    return Counter(str(one.grade) for one in found)


@both
def test_a_finished_document_says_what_the_fold_says(language: str, log: Log) -> None:
    """Findings by grade, the open places in their order, and the verdict."""
    (told,) = _read(language, log.folder / "inspection.json")
    verdict = log.inspection.verdict
    assert Counter(told["grades"]) == _grades(log) + Counter()
    assert told["verdict"] == {
        "drive": verdict.drive, "work": verdict.work, "tier": verdict.tier,
    }  # fmt: skip
    gaps = [(gap.zone, gap.side, gap.face, gap.why, gap.entry) for gap in log.inspection.gaps]
    keys = ("zone", "side", "face", "why", "entry")
    assert [tuple(map(one.get, keys)) for one in told["open"]] == gaps
    assert len(gaps) > 10


@both
def test_a_journal_says_what_the_fold_says(language: str, log: Log) -> None:
    """From the lines alone: findings by grade, and the entries that are open."""
    (told,) = _read(language, log.folder / "journal.jsonl")
    assert Counter(told["grades"]) == _grades(log) + Counter()
    assert told["grades"]["unsafe"] >= 1
    assert told["closed"]
    assert "verdict" not in told
    wanted = {(gap.entry, gap.why) for gap in log.inspection.gaps if gap.entry}
    listen = {(one["entry"], one["why"]) for one in told["open"] if one["why"] != "not-seen"}
    assert listen == {(name, why) for name, why in wanted if why in ("doubtful", "unproven")}
    assert len({one["entry"] for one in told["open"]}) > len({name for name, _ in listen}) > 0


@both
def test_the_example_journal_and_its_document_agree(language: str) -> None:
    """Whoever follows the lines comes to the same findings as whoever reads the document."""
    lines, document = _read(language, VALID / "journal.jsonl", VALID / "inspection-reviewed.json")
    assert lines["log"] == document["log"]
    assert lines["grades"] == document["grades"]
    unmarked = [{**one, "after_signing": False} for one in document["findings"]]
    assert lines["findings"] == unmarked


@both
def test_the_example_journal_is_graded_as_the_shipped_rules_grade_it(language: str) -> None:
    """What its lines told at the time is what the program's own fold says of it, entry by entry."""
    journal, grammar = VALID / "journal.jsonl", load_grammar("ladder-frame")
    facts = [decode(line, at) for at, line in enumerate(journal.read_bytes().splitlines(), 1)]
    live = fold(facts, grammar.zone_map, grammar.rules).live
    (told,) = _read(language, journal)
    wanted = {one.entry.id: str(one.grade) for one in live if one.entry.kind is Kind.FINDING}
    assert {one["entry"]: one["grade"] for one in told["findings"]} == wanted


@without_node
@pytest.mark.parametrize("flags", [[], ["--json"]])
def test_both_say_the_same_of_every_example(flags: list[str]) -> None:
    """Valid and invalid, read and refused, to the byte."""
    paths = sorted((SHARED / "examples").glob("*/*.json*"))
    python, javascript = (_run(language, *flags, *paths) for language in COMMANDS)
    assert python.stdout == javascript.stdout
    assert python.stderr == javascript.stderr
    assert python.returncode == javascript.returncode == 1
    assert "Traceback" not in python.stderr
    read = [path for path in paths if path.parent == VALID and path.name[0] in "aij"]
    assert not [path for path in read if str(path) in python.stderr]


@both
def test_a_minor_version_is_read_and_a_major_one_refused(language: str, tmp_path: Path) -> None:
    """Keys and kinds that nobody knows yet change nothing; the refusal is one sentence."""
    document = json.loads((VALID / "inspection-pickup.json").read_text("utf-8"))
    entries = [*document["entries"], {"id": "e99.1", "kind": "smell", "doubtful": False}]
    later = {**document, "contract": "1.7", "weather": {"rain": True}, "entries": entries}
    (tmp_path / "minor.json").write_text(json.dumps(later), encoding="utf-8")
    major = {**document, "contract": "2.0"}
    (tmp_path / "major.json").write_text(json.dumps(major), encoding="utf-8")
    newer = _journal(tmp_path / "newer.jsonl", {**_hole("e2.1", "treat"), "v": 2})
    now, minor = _read(language, VALID / "inspection-pickup.json", tmp_path / "minor.json")
    assert minor == now
    done = _run(language, tmp_path / "major.json", newer)
    first, second = done.stderr.splitlines()
    assert done.returncode == 1
    assert done.stdout == ""
    assert first.endswith(
        "major.json: It follows contract 2.0, and this reader knows 1: get a newer one."
    )
    assert "Line 2 is of a version that this reader does not know" in second


@both
def test_unsafe_is_never_softened(language: str, tmp_path: Path) -> None:
    """Neither by a doubt, nor by a slot of that name, nor without a word; what has no grade comes first."""
    sly = {"do": "amend", "entry": "e2.1", "set": {"grade": "treat", "kind": "remark"}, "why": "x"}
    journal = _journal(
        tmp_path / "journal.jsonl",
        _hole("e2.1", "unsafe", doubts=["which sill?"]),
        {"type": "utterance", "changes": [sly]},
        _hole("e4.1", None),
        _hole("e5.1", "unsafe"),
        {"type": "revised", "graded": {"e5.1": {"grade": "repair", "rules": []}}},
        _hole("e7.1", "dreadful"),
        _hole("e8.1", "unsafe"),
        {"type": "revised", "changes": [{"do": "withdraw", "entry": "e8.1"}]},
        {"type": "closed"},
    )
    live, _, summed = _run(language, "--follow", journal).stdout.partition("Log log, closed\n")
    assert "UNSAFE e2.1 sill hole, DOUBTFUL" in live
    assert "repair e5.1 sill hole, WAS UNSAFE" in live
    assert "UNSAFE e8.1 sill hole, taken back, WAS UNSAFE" in live
    assert [line.split()[:2] for line in summed.splitlines()[:4]] == [
        ["UNKNOWN", "e4.1"], ["UNKNOWN", "e7.1"], ["UNSAFE", "e2.1"], ["repair", "e5.1"],
    ]  # fmt: skip
    assert "DOUBTFUL" in summed.splitlines()[2]


@both
def test_a_journal_is_followed_while_it_grows(language: str, tmp_path: Path) -> None:
    """In pieces that tear lines apart, with keys and types of lines that nobody knows."""
    lines = _chained(
        (
            {"type": "opened", "log_id": "log", "mood": "fine"},
            {"type": "weather", "rain": True},
            {"type": "gap", "lost_s": 2.5},
            {**_hole("e4.1", "unsafe"), "sung": True},
            {"type": "closed", "reason": "finished"},
        )
    )
    journal, whole = tmp_path / "journal.jsonl", b"".join(lines)
    journal.write_bytes(whole[:-300])
    command = [*COMMANDS[language], "--follow", str(journal)]
    with subprocess.Popen(command, stdout=subprocess.PIPE, encoding="utf-8") as reader:
        assert reader.stdout is not None
        first = reader.stdout.readline()
        for at in range(len(whole) - 300, len(whole), 60):
            with journal.open("ab") as more:
                more.write(whole[at : at + 60])
        shown, _ = reader.communicate(timeout=30)
    assert first == "About 3 s of sound is missing: something may have been said.\n"
    assert shown.startswith("UNSAFE e4.1 sill hole\nLog log, closed\n")


@both
def test_a_torn_end_is_left_aside_and_damage_refused(language: str, tmp_path: Path) -> None:
    """What follows the last line feed was never whole; a line that was changed is another matter."""
    whole = _journal(tmp_path / "journal.jsonl", _hole("e2.1", "unsafe"), {"type": "closed"})
    data = whole.read_bytes()
    (tmp_path / "torn.jsonl").write_bytes(data[:-5])
    (tmp_path / "changed.jsonl").write_bytes(data.replace(b'"unsafe"', b'"treat" '))
    (tmp_path / "lost.jsonl").write_bytes(b"".join(data.splitlines(keepends=True)[::2]))
    names = ("torn", "changed", "lost", "missing")
    torn, *refused = _read(language, *(tmp_path / f"{name}.jsonl" for name in names))
    assert (torn["grades"]["unsafe"], torn["closed"]) == (1, False)
    assert torn["notes"] == ["The last line is not whole; it was left aside."]
    assert [one["refused"] for one in refused] == [
        "Line 3 does not follow the line before it: run voicelog verify",
        "Line 2 does not follow the line before it: run voicelog verify",
        "It cannot be opened",
    ]


@both
def test_what_was_said_does_nothing_on_a_terminal(language: str, tmp_path: Path) -> None:
    """Control characters, marks that turn the reading direction, and half characters are shown as such."""
    entry = {"kind": "finding", "doubts": ["\u202e"], "slots": {"zone": "a\x1b[2J\u202eb\ud800"}}
    change = {"do": "add", "entry": {"id": "e2.1", **entry}}
    path = _journal(tmp_path / "journal.jsonl", {"type": "utterance", "changes": [change]})
    assert "UNKNOWN e2.1 a\ufffd[2J\ufffdb\ufffd, DOUBTFUL\n" in _run(language, path).stdout


def test_the_readers_need_nothing_but_their_language() -> None:
    """No package: imports are of the language itself, or of the files beside."""
    for path in (READERS / "python").glob("*.py"):
        nodes = list(ast.walk(ast.parse(path.read_text("utf-8"))))
        named = {one.module for one in nodes if isinstance(one, ast.ImportFrom)}
        named |= {n.name for one in nodes if isinstance(one, ast.Import) for n in one.names}
        beside = {one.stem for one in path.parent.glob("*.py")}
        assert not {str(name).split(".")[0] for name in named} - sys.stdlib_module_names - beside
    for path in (READERS / "javascript").glob("*.mjs"):
        named_by_it = re.findall(r'from "([^"]+)"', path.read_text("utf-8"))
        assert all(name.startswith(("node:", "./")) for name in named_by_it)


@both
def test_the_page_shows_what_the_readers_print(language: str) -> None:
    """The command that stands on the page, run beside it, prints what stands under it."""
    blocks = re.findall(r"```console\n\$ (\S+) (readers/\S+) (\S+)\n(.*?)```", PAGE, re.DOTALL)
    ((_, _, example, printed),) = [one for one in blocks if one[1].split("/")[1] == language]
    told = _run(language, SHARED / example).stdout
    start, _, end = printed.partition("…\n")
    assert told.startswith(start)
    assert told.endswith(end)
    assert len(start.splitlines()) > 5
