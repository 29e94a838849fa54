"""Putting a log right without a screen: ``voicelog amend`` and ``voicelog sign``."""

from __future__ import annotations

import hashlib
import json
import shutil
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from voicelog.export.contract import validate
from voicelog.journal.journal import Journal

Run = Callable[..., Any]
SAID = (
    "left sill, surface rust, metal is firm",
    "hole on the left kick-up, scale on the right",
    "left front rail, crack",
    "both rails scale",
)


@pytest.fixture(scope="module")
def inspected(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """That inspection, said once."""
    from voicelog.config.settings import Settings
    from voicelog.runtime.opening import open_reading

    with open_reading(Settings(into=tmp_path_factory.mktemp("said")), keep=True) as session:
        for number, text in enumerate(SAID):
            session.read(text, at_s=float(number))
        session.close("finished")
        assert session.folder is not None
        return session.folder


@pytest.fixture
def log(inspected: Path, tmp_path: Path) -> Path:
    """A copy of it, the only log in its folder; it was finished."""
    return shutil.copytree(inspected, tmp_path / "logs" / "20260314T080530Z-pickup")


@pytest.fixture
def amend(run: Run, log: Path) -> Callable[..., Any]:
    """Amends it; anything else than success fails the test, unless another exit code is wanted."""

    def call(*arguments: object, code: int = 0) -> Any:
        done = run("amend", log, "--by", "Sam", *arguments)
        assert done.returncode == code, done.stdout + done.stderr
        assert "Traceback" not in done.stderr
        if "--json" in arguments and not code:
            validate(json.loads(done.stdout), "amend")
        return done

    return call


def exported(run: Run, log: Path) -> dict[str, Any]:
    """The published document, by its contract."""
    document = json.loads(run("export", log).stdout)
    validate(document, "inspection")
    return document  # type: ignore[no-any-return]


def entry(run: Run, log: Path, name: str) -> dict[str, Any]:
    """One entry of it, withdrawn or not."""
    document = exported(run, log)
    found = [e for e in (*document["entries"], *document["withdrawn"]) if e["id"] == name]
    return found[0]  # type: ignore[no-any-return]


def test_a_slot_is_put_right_and_told_before_and_after(run: Run, log: Path, amend: Any) -> None:
    """With the line that says so; the log is whole, and the export has it with name and reason."""
    done = amend("--entry", "e2.1", "--set", "side=right", "--why", "wrong way round")
    was, _, now, *_ = done.stdout.splitlines()
    assert was.startswith("was:  e2.1: left sill — surface rust")
    assert now.startswith("now:  changed e2.1: right sill — surface rust")
    assert "Line 7 of the journal: correct, by Sam" in done.stdout
    kept = entry(run, log, "e2.1")
    (revision,) = kept["revised"]
    assert (kept["side"], revision["by"], revision["why"]) == ("right", "Sam", "wrong way round")
    assert [state["side"] for state in kept["history"]] == ["left"]
    assert run("verify", log).returncode == 0


def test_values_come_with_their_units_and_slots_are_dropped(
    run: Run, log: Path, amend: Any
) -> None:
    """Several at once are one change."""
    amend("--entry", "e3.1", "--set", "size=3/16 in", "--set", "face=bottom", "--set", "side=")
    kept = entry(run, log, "e3.1")
    assert (kept["size_mm"], kept["face"]) == (pytest.approx(4.7625), "bottom")
    assert ("side" in kept, kept["doubtful"]) == (False, True)
    amend("--entry", "e3.1", "--set", "side=left", "--drop", "face")
    kept = entry(run, log, "e3.1")
    assert ("face" in kept, kept["side"], len(kept["revised"])) == (False, "left", 2)


def test_a_place_that_could_not_be_looked_at(run: Run, log: Path, amend: Any) -> None:
    """Kind and reason are set like slots."""
    amend("--entry", "e2.1", "--set", "kind=not-seen", "--set", "reason=shield in the way")
    kept = entry(run, log, "e2.1")
    assert (kept["kind"], kept["reason"]) == ("not-seen", "shield in the way")
    assert "condition" not in kept


def test_unsafe_is_not_softened_without_a_reason(run: Run, log: Path, amend: Any) -> None:
    """Exit code 2 and nothing written; with a reason the verdict is told as it changes."""
    before = (log / "journal.jsonl").read_bytes()
    done = amend("--entry", "e4.1", "--set", "kind=clear", code=2)
    assert "e4.1 is unsafe and would be clear. Say why (--why)" in done.stderr
    assert (log / "journal.jsonl").read_bytes() == before
    done = amend("--entry", "e4.1", "--set", "kind=clear", "--why", "a scratch in the paint")
    assert "Move it today? was do not drive, is not enough seen" in done.stdout
    undone = amend("--undo")
    assert "Move it today? was not enough seen, is do not drive" in undone.stdout
    assert "--why" in amend("--redo", code=2).stderr


def test_several_entries_are_moved_by_a_range(run: Run, log: Path, amend: Any) -> None:
    """In the order of the log, as one change that one undo takes back."""
    amend("--entry", "e2.1..e3.2", "--move", "zone=kick-up", "--move", "side=left")
    document = exported(run, log)
    places = {e["id"]: (e["zone"], e["side"]) for e in document["entries"] if e["id"] < "e4"}
    assert set(places.values()) == {("kick-up", "left")}
    amend("--undo")
    assert entry(run, log, "e2.1")["zone"] == "sill"


def test_each_deed_in_turn(run: Run, log: Path, amend: Any) -> None:
    """Withdrawn and restored by a range, said anew, split, merged, confirmed, added."""
    amend("--entry", "e2.1..e3.2", "--withdraw")
    assert len(exported(run, log)["withdrawn"]) == 3
    amend("--entry", "e2.1..e3.2", "--restore")
    assert exported(run, log)["withdrawn"] == []
    amend("--entry", "e3.2", "--say", "right kick-up, hole, twenty millimetres")
    assert entry(run, log, "e3.2")["size_mm"] == 20.0
    added = amend("--entry", "e3.2", "--add", "scale", "--json")
    (new,) = json.loads(added.stdout)["entries"]
    name = new["after"]["id"]
    assert (new["after"]["zone"], new["after"]["side"]) == ("kick-up", "right")
    assert "before" not in new
    amend("--entry", "e3.2", "--merge", name)
    assert [e["id"] for e in exported(run, log)["withdrawn"]] == [name]
    (half,) = json.loads(amend("--entry", "e3.2", "--split", "--json").stdout)["entries"]
    assert half["after"]["doubtful"]
    amend("--entry", half["after"]["id"], "--confirm")
    assert not entry(run, log, half["after"]["id"])["doubtful"]
    assert run("verify", log).returncode == 0


def test_as_json(amend: Any) -> None:
    """What was done, on which line, each entry before and after, and the verdict."""
    told = json.loads(amend("--entry", "e2.1", "--set", "condition=hole", "--json").stdout)
    assert (told["did"], told["line"], told["by"], told["written"]) == ("correct", 7, "Sam", True)
    (both,) = told["entries"]
    assert (both["before"]["condition"], both["after"]["condition"]) == ("surface-rust", "hole")
    assert set(told["verdict"]) == {"drive", "work", "tier", "could_change"}


def test_a_dry_run_shows_all_and_writes_nothing(run: Run, log: Path) -> None:
    """Even while somebody else writes the log; real changes are refused then."""
    before = (log / "journal.jsonl").read_bytes()
    with Journal.reopen(log):
        done = run("amend", log, "--entry", "e2.1", "--set", "side=right", "--dry-run")
        assert (done.returncode, done.stderr) == (0, "")
        assert "now:  changed e2.1: right sill" in done.stdout
        assert "nothing was written" in done.stdout
        refused = run("amend", log, "--entry", "e2.1", "--set", "side=right")
        assert (refused.returncode, refused.stdout) == (8, "")
        assert "cannot be changed now" in refused.stderr
    assert (log / "journal.jsonl").read_bytes() == before


def test_what_cannot_be_done_is_told_in_one_line(amend: Any, log: Path) -> None:
    """Exit code 2, and the log is as it was."""
    before = (log / "journal.jsonl").read_bytes()
    done = amend("--entry", "e2.1", "--set", "side=lefft", code=2)
    assert done.stdout == ""
    assert done.stderr.startswith("voicelog: ")
    assert done.stderr.count("\n") == 1
    assert "left" in done.stderr
    assert (log / "journal.jsonl").read_bytes() == before


def test_the_newest_log_is_called_last(run: Run, log: Path) -> None:
    """Finished or not; without any, it says so."""
    done = run("amend", "last", "--into", log.parent, "--entry", "e2.1", "--set", "side=right")
    assert done.returncode == 0, done.stderr
    none = run("amend", "last", "--entry", "e2.1", "--confirm")
    assert none.returncode == 3
    assert "There is no log" in none.stderr


def test_hostile_text_is_shown_inert(amend: Any) -> None:
    """Neither colours nor markup get through, from the command line or from the log."""
    told = amend(
        "--entry", "e2.1", "--set", "kind=not-seen",
        "--set", "reason=mud \x1b[31m[bold]red[/bold]", "--by", "\x1b]0;x\x07Eve",
    ).stdout  # fmt: skip
    assert "\x1b" not in told
    assert "\x07" not in told
    assert "[bold]red[/bold]" in told


def test_signing(run: Run, log: Path, amend: Any) -> None:
    """The list first; a reason where something is open; the seal is the one that verify prints."""
    listed = run("sign", log, "--list")
    assert (listed.returncode, listed.stderr) == (0, "")
    assert "Left front rail: crack is unsafe, and there is no photo of it (e4.1)" in listed.stdout
    refused = run("sign", log)
    assert refused.returncode == 2
    assert "(e4.1)" in refused.stdout
    assert "still open" in refused.stderr
    before = (log / "journal.jsonl").read_bytes()
    done = run("sign", log, "--by", "Kim", "--why", "no camera here", "--json")
    told = json.loads(done.stdout)
    assert (told["by"], told["why"], told["lines"]) == ("Kim", "no camera here", 6)
    assert told["sha256"] == hashlib.sha256(before).hexdigest()
    assert len(told["open"]) == listed.stdout.count("  - ")
    checked = run("verify", log)
    assert checked.returncode == 0
    assert "Signed by Kim" in checked.stdout
    amend("--entry", "e2.1", "--set", "side=right")
    document = exported(run, log)
    assert [e["id"] for e in document["entries"] if e.get("after_signing")] == ["e2.1"]


def test_a_signature_in_words_promises_nothing(run: Run, log: Path) -> None:
    """Who, when, over what; and that it certifies nothing."""
    told = run("sign", log, "--by", "Kim", "--why", "no camera here").stdout
    assert "Signed by Kim" in told
    for label in ("Lines:", "SHA-256:", "Seal:"):
        assert label in told
    assert "It certifies nothing." in told


def test_what_a_correction_teaches_is_remembered(run: Run, tmp_path: Path) -> None:
    """A mishearing explains it: the next inspection hears the word right, and the log says so."""
    log = _misheard(tmp_path / "heard")
    arguments = ("amend", log, "--entry", "e2.1", "--set", "zone=sill", "--learn", "shop")
    tried = run(*arguments, "--dry-run")
    assert "To be learned: “seal” is sill" in tried.stdout, tried.stdout + tried.stderr
    assert "seal" not in run("words", "learned").stdout
    done = run(*arguments, "--json")
    (lesson,) = json.loads(done.stdout)["learned"]
    assert (lesson["heard"], lesson["value"]) == ("seal", "sill")
    assert Path(lesson["file"]).is_file()
    assert '"type":"learned"' in (log / "journal.jsonl").read_text("utf-8")
    assert "seal" in run("words", "learned").stdout
    assert run("verify", log).returncode == 0


def _misheard(parent: Path) -> Path:
    """A log in which an ear took one word for another, and the place was lost."""
    from voicelog.config.settings import Settings
    from voicelog.domain.heard import Heard, Hypothesis
    from voicelog.domain.sound import Clip
    from voicelog.recognise.typed_engine import TypedEar
    from voicelog.runtime.opening import open_reading

    with open_reading(Settings(into=parent), keep=True) as session:
        session.ear = TypedEar()
        clip = Clip(bytes(range(250)) * 64, start_s=0.0, speech_end_s=0.4)
        session.hear(clip, heard=Heard((Hypothesis("left rear rail, seal, scale"),), "built-in"))
        assert session.folder is not None
        return session.folder
