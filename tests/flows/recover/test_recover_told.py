"""What is lost beside the lines, what is left alone, and what the command says."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from recovering_log import bytes_of, damaged, recovered

from voicelog.errors import LockedFault, UsageFault
from voicelog.export.contract import validate
from voicelog.journal.journal import Journal
from voicelog.journal.reading import read_log
from voicelog.runtime.damaged import plan_recovery
from voicelog.runtime.logs import document_of, open_log
from voicelog.runtime.recovering import recover

Run = Callable[..., Any]


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
