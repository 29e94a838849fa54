"""What a recovered log says of what it cannot know, and what no reader takes for whole."""

from __future__ import annotations

import hashlib
import json
import shutil
import sys
from collections.abc import Sequence
from datetime import timedelta
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner

sys.path.insert(0, str(Path(__file__).parents[1]))
sys.path.insert(0, str(Path(__file__).parents[2] / "flows"))

from damage_rewritten import _chained
from spoken_log import SAID, spoken_log

from voicelog.cli.main import cli
from voicelog.config.settings import Settings
from voicelog.domain.recovery import CHANGES_LOST, DENIED
from voicelog.errors import LogFault
from voicelog.journal import clock
from voicelog.journal.journal import Journal
from voicelog.journal.reading import read_log
from voicelog.runtime.damaged import Plan, is_damaged, plan_recovery
from voicelog.runtime.logs import document_of, open_log
from voicelog.runtime.recovering import recover
from voicelog.runtime.review import Review


@pytest.fixture(scope="module")
def spoken(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A finished inspection of seven lines; the third says what is unsafe."""
    return spoken_log(tmp_path_factory.mktemp("said"))


@pytest.fixture
def log(spoken: Path, tmp_path: Path) -> Path:
    """A copy of it to be damaged."""
    return Path(shutil.copytree(spoken, tmp_path / "logs" / spoken.name))


def lines_of(log: Path) -> list[bytes]:
    """Its lines, line feeds included."""
    return (log / "journal.jsonl").read_bytes().splitlines(keepends=True)


def put(log: Path, lines: Sequence[bytes]) -> None:
    """Other lines in their place."""
    (log / "journal.jsonl").write_bytes(b"".join(lines))


def recovered(log: Path) -> tuple[Plan, Path]:
    """What can be recovered, written beside it; it opens."""
    assert is_damaged(log)
    plan = plan_recovery(log)
    new = recover(plan)
    assert (new.check.problems, new.trouble) == ((), "")
    return plan, new.folder


def test_an_end_that_is_gone_is_told_where_clips_of_it_lie_there(log: Path) -> None:
    """The unsafe finding was behind the cut: the new log does not know, and says so."""
    put(log, lines_of(log)[:2])
    with pytest.raises(LogFault, match="its end is gone"):
        open_log(log)
    plan, new = recovered(log)
    opened = open_log(new)
    assert (plan.told.lost, plan.highest) == ([3, 4, 5, 6], 6)
    assert opened.inspection.lost == (3, 4, 5, 6)
    assert opened.inspection.verdict.drive == "not-enough-seen"
    with Journal.reopen(new) as journal:
        assert journal.next_seq == 7, "no clip's number is given again"


def test_what_a_second_program_changed_is_not_lost_without_a_word(log: Path) -> None:
    """Of two ends one is taken; that there was another makes the verdict doubtful."""
    lines = lines_of(log)
    milder = lines[2].replace(b'"crack"', b'"dents"').replace(b'"unsafe"', b'"treat"')
    other = _chained([*lines[:2], milder], 2)
    put(log, [*lines, other[2]])
    plan, new = recovered(log)
    assert plan.told.twice == [3]
    fact = read_log(new).facts[2]
    assert [change["do"] for change in fact.body[CHANGES_LOST]] == ["add"]
    assert open_log(new).inspection.lost == (3,)
    told = CliRunner().invoke(cli, ["recover", str(log), "--dry-run"]).output
    assert "Lines that two programs wrote at once: 3." in told


@pytest.fixture
def signed(log: Path) -> Path:
    """The same, signed, and then written anew with something milder in line 3."""
    with Review.open(log, Settings(), by="Sam") as review:
        review.sign(why="as it is")
    lines = lines_of(log)
    lines[2] = lines[2].replace(b'"crack"', b'"dents"').replace(b'"unsafe"', b'"treat"')
    put(log, _chained(lines, 2))
    return log


def test_a_signature_of_other_lines_is_no_signature(signed: Path) -> None:
    """Every hash follows from the one before, and the name still stands there: nobody opens it as
    signed, or goes on with it.
    """
    for refused in (read_log, open_log, Journal.reopen):
        with pytest.raises(LogFault, match="signs other lines than the 7 that stand before it"):
            refused(signed)


def test_what_was_changed_after_signing_is_not_known(signed: Path) -> None:
    """All lines are there, and one of them is not what was signed: the recovered log says that."""
    plan, new = recovered(signed)
    assert plan.told.denied == [8]
    assert "signs other lines" in read_log(new).facts[7].body[DENIED]
    opened = open_log(new)
    assert opened.inspection.verdict.drive == "not-enough-seen"
    assert "was changed afterwards" in document_of(opened)["cautions"][0]
    told = CliRunner().invoke(cli, ["verify", str(new)]).output
    assert "was a signature of Sam; what it signed was changed" in told


def test_a_signature_that_cannot_be_tried_any_more_denies_nothing(log: Path) -> None:
    """A line in front of it is lost, and that is what the new log tells."""
    with Review.open(log, Settings(), by="Sam") as review:
        review.sign(why="as it is")
    lines = lines_of(log)
    put(log, [*lines[:4], *lines[5:]])
    plan, _ = recovered(log)
    assert (plan.told.denied, plan.told.signed, plan.told.lost) == ([], [8], [5])


def test_a_last_line_of_which_nobody_can_make_anything(log: Path) -> None:
    """One bit turned over in a key of it: the log does not open, and recovering gives one that does."""
    lines = lines_of(log)[:-1]
    put(log, [*lines[:-1], lines[-1].replace(b'"utterance":"u6"', b'"uttesance":"u6"')])
    with pytest.raises(LogFault, match="does not fit the contract"):
        open_log(log)
    plan, new = recovered(log)
    assert plan.told.lost == [6]
    assert plan.missing[0].why == "what it says cannot be read"
    assert open_log(new).inspection.lost == (6,)


def test_an_opening_line_without_a_grammar(log: Path) -> None:
    """It was altered, as the second line tells; what lies in the log's folder is taken."""
    first, *rest = lines_of(log)
    said = json.loads(first) | {"grammar": {}}
    put(log, [json.dumps(said, separators=(",", ":")).encode() + b"\n", *rest])
    plan, _ = recovered(log)
    assert (plan.kept, plan.grammar.map) == (len(SAID) + 1, "ladder-frame")
    assert plan.grammar.problems == ("Nobody knows which grammar was in force",)


def test_what_was_unsafe_by_rules_that_are_lost_is_named(log: Path) -> None:
    """A shop's own rules were altered, and nobody has them elsewhere: graded by what is left of them, the
    crack is milder than it was told.
    """
    rules = log / "grammar" / "rules" / "frame.toml"
    ours = rules.read_bytes() + b"# ours\n"
    first, *rest = lines_of(log)
    old = hashlib.sha256(rules.read_bytes()).hexdigest().encode()
    new = hashlib.sha256(ours).hexdigest().encode()
    put(log, _chained([first.replace(old, new), *rest], 0))
    rules.write_bytes(ours)
    assert not is_damaged(log)
    rules.write_bytes(ours.replace(b'"unsafe"', b'"treat"'))
    _, folder = recovered(log)
    document = document_of(open_log(folder))
    assert (
        "Told as unsafe when it was said, and graded milder here: e3.1" in document["cautions"][0]
    )
    assert document["verdict"]["drive"] == "not-enough-seen"
    told = CliRunner().invoke(cli, ["sign", str(folder), "--list"]).output
    assert "graded milder here: e3.1" in " ".join(told.split())


@pytest.mark.parametrize(
    ("old", "new"),
    [
        (b"maps/ladder-frame.toml", b"maps/ladder-frame.tom|"),
        (b"rules/frame.toml", b"rules/grame.toml"),
    ],
)
def test_an_opening_line_that_misnames_a_file(log: Path, old: bytes, new: bytes) -> None:
    """What lies in the log's folder keeps its name there, and the log can be opened."""
    first, *rest = lines_of(log)
    assert first.count(old) == 1
    put(log, [first.replace(old, new).replace(b'"seq":1', b'"seq": 1'), *rest])
    plan, folder = recovered(log)
    assert (plan.kept, plan.grammar.map) == (len(SAID) + 1, "ladder-frame")
    assert open_log(folder).inspection.lost == (1,)


def test_another_log_that_was_written_over_the_beginning(
    log: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """It was opened an hour earlier, and its clips do not lie here: none of it comes into the new log."""
    now = clock.utc_now
    monkeypatch.setattr(clock, "utc_now", lambda: now() - timedelta(hours=1))
    other = spoken_log(tmp_path / "other", SAID[:4], noise=2)
    monkeypatch.undo()
    own = lines_of(log)
    put(log, [*lines_of(other)[:4], *own[4:]])
    plan, new = recovered(log)
    assert plan.told.lost == [2, 3, 4]
    hashes = {hashlib.sha256(path.read_bytes()).hexdigest() for path in (log / "clips").iterdir()}
    for fact in read_log(new).facts:
        clip: Any = fact.body.get("clip", {})
        assert clip.get("sha256", "") in {"", *hashes}


def test_an_unfinished_log_is_not_called_whole_to_its_end(log: Path) -> None:
    """Cut after a whole line, with no later clip there: nothing shows it but that no line ends it."""
    run = CliRunner()
    assert "nothing was lost or changed" in run.invoke(cli, ["verify", str(log)]).output
    put(log, lines_of(log)[:-1])
    told = run.invoke(cli, ["verify", str(log)])
    assert told.exit_code == 0
    assert "nothing was lost" not in told.output
    assert "does not say that the inspection was finished" in told.output
