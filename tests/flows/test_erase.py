"""Sound and whole inspections are erased for good, and nothing else is."""

from __future__ import annotations

import os
import shutil
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from spoken_log import SAID, spoken_log

from voicelog.export.contract import validate
from voicelog.journal.journal import Journal
from voicelog.journal.reading import read_log, verify
from voicelog.runtime.logs import document_of, open_log

Run = Callable[..., Any]


@pytest.fixture(scope="module")
def spoken(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """That inspection, said once."""
    return spoken_log(tmp_path_factory.mktemp("said"))


@pytest.fixture
def log(spoken: Path, tmp_path: Path) -> Path:
    """A copy of it."""
    return shutil.copytree(spoken, tmp_path / "logs" / "pickup")


def clips(log: Path) -> list[str]:
    """The names of its clips."""
    return sorted(path.name for path in (log / "clips").iterdir())


def ok(done: Any) -> str:
    """What a command printed; it has to have worked."""
    assert done.returncode == 0, done.stdout + done.stderr
    return str(done.stdout)


def test_clips_are_erased_and_the_log_says_so(run: Run, log: Path) -> None:
    """By the utterance and by an entry that came of it; words and entries stay, and all is whole."""
    assert run("sign", log, "--by", "Sam", "--why", "as it is").returncode == 0
    before = open_log(log).inspection.findings
    told = ok(run("erase", log, "--clip", "u2", "e5.1", "--by", "Kim", "--why", "a name was said"))
    assert "clips/u2.flac\n  clips/u5.flac" in told
    assert "signed by Sam; it shows now that it was changed after signing" in told
    assert "may keep the old bytes" in told
    assert clips(log) == ["u3.flac", "u4.flac", "u6.flac"]
    erased = [fact for fact in read_log(log).facts if fact.type == "clip-erased"]
    assert [dict(fact.body) for fact in erased] == [
        {"utterance": name, "by": "Kim", "why": "a name was said"} for name in ("u2", "u5")
    ]
    for fact in erased:
        validate({"v": 1, "seq": fact.seq, "at": fact.at, "offset_s": fact.offset_s,
                  "prev": fact.prev, "type": fact.type, **fact.body}, "fact")  # fmt: skip
    opened = open_log(log)
    assert opened.inspection.findings == before
    assert document_of(opened)["log"]["closed"] is True
    assert "2 changes were made after signing" in ok(run("verify", log))
    shown = ok(run("review", log, "--plain", "--entry", "e2.1"))
    assert f"its sound was erased on {erased[0].at[:10]}" in shown
    assert "u2: its sound was erased before" in ok(run("erase", log, "--clip", "u2"))


def test_joined_sound_in_the_folder_goes_as_well(run: Run, log: Path) -> None:
    """What lies beside the folder is named and left; somebody's own recording is neither."""
    ok(run("export", log, "-o", log / "walk.vtt"))
    ok(run("export", log, "-o", log.parent / "beside.vtt"))
    (log / "own.flac").write_bytes((log / "clips" / "u2.flac").read_bytes())
    told = ok(run("erase", log, "--clip", "u3"))
    assert (log / "walk.vtt").exists()
    assert not (log / "walk.flac").exists()
    assert (log / "own.flac").exists()
    assert (log.parent / "beside.flac").exists()
    assert f"outside it, and left: {log.parent / 'beside.flac'}" in told


def test_all_sound_asks_for_the_name(run: Run, log: Path) -> None:
    """Nothing, or another name, erases nothing; clips that no line tells of go too."""
    (log / "clips" / "u9.orphan-1.flac").write_bytes(b"half a word")
    for answer in ("", "yes\n"):
        refused = run("erase", log, "--all-sound", given=answer)
        assert (refused.returncode, len(clips(log))) == (2, len(SAID) + 1)
        assert "Nothing was erased" in refused.stderr
    assert "Nothing was erased" in ok(run("erase", log, "--all-sound", "--dry-run"))
    assert len(clips(log)) == len(SAID) + 1
    ok(run("erase", log, "--all-sound", given="pickup\n"))
    assert clips(log) == []
    assert verify(log).problems == ()


def test_a_whole_inspection(run: Run, log: Path) -> None:
    """What is not the log's own stays, with the folder; exports that name it go."""
    ok(run("export", log, "-o", log / "page.csv"))
    ok(run("export", log, "-o", log / "page.json"))
    ok(run("export", log, "-o", log.parent / "copy.json"))
    (log / "notes.txt").write_text("mine", encoding="utf-8")
    tried = ok(run("erase", log, "--inspection", "--dry-run"))
    assert "left where it is: notes.txt" in tried
    assert (log / "journal.jsonl").exists()
    told = ok(run("erase", log, "--inspection", "--yes"))
    assert f"outside it, and left: {log.parent / 'copy.json'}" in told
    assert sorted(path.name for path in log.iterdir()) == ["notes.txt", "page.csv"]
    assert "The folder is still there" in told


def test_what_somebody_put_into_the_log_stays(run: Run, log: Path) -> None:
    """Names that the program does not give are not its own, in no folder of the log; a draft that a
    crash left, with all the sound in it, is.
    """
    mine = (
        "journal.jsonl.bak", "journal.torn-notes.txt", "clips/mine.flac", "clips/u2.flac.txt",
        "clips/notes.txt", "clips/sub/u3.flac", "photos/mine.jpg", "grammar/mine.toml",
    )  # fmt: skip
    for name in mine:
        (log / name).parent.mkdir(exist_ok=True)
        (log / name).write_text("mine", encoding="utf-8")
    (log / "grammar" / "mine.toml").rename(log / "mine.toml")
    for name in (".voicelog-0123456789ab.flac", "clips/u2.flac.part"):
        (log / name).write_bytes(b"half of the sound")
    ok(run("erase", log, "--all-sound", "--yes"))
    assert clips(log) == ["mine.flac", "notes.txt", "sub", "u2.flac.txt"]
    assert not (log / ".voicelog-0123456789ab.flac").exists()
    (log / "mine.toml").rename(log / "grammar" / "mine.toml")
    (log / "journal.torn-1").write_bytes(b"half a line")
    told = ok(run("erase", log, "--inspection", "--yes"))
    assert all(f"left where it is: {name}" in told for name in mine)
    files = (path for path in log.rglob("*") if path.is_file())
    assert sorted(path.relative_to(log).as_posix() for path in files) == sorted(mine)


def test_the_log_it_was_recovered_from_is_named(run: Run, log: Path) -> None:
    """It holds the same words and sound; so does what was recovered of a log that is erased."""
    lines = (log / "journal.jsonl").read_bytes().splitlines(keepends=True)
    (log / "journal.jsonl").write_bytes(b"".join([*lines[:2], *lines[3:]]))
    ok(run("recover", log))
    new = log.with_name("pickup-recovered")
    named = f"outside it, and left: {log}\n"
    assert named in ok(run("erase", new, "--clip", "u2", "--dry-run"))
    assert named in ok(run("erase", new, "--inspection", "--dry-run"))
    assert f"left: {new}\n" in ok(run("erase", log, "--inspection", "--dry-run"))
    ok(run("erase", new, "--inspection", "--yes"))
    assert (log / "clips" / "u2.flac").exists()


def test_nothing_is_called_overwritten_that_was_not(run: Run, log: Path, tmp_path: Path) -> None:
    """A file with a second name keeps its bytes there."""
    os.link(log / "clips" / "u3.flac", tmp_path / "twin.flac")
    told = ok(run("erase", log, "--clip", "u3"))
    assert "without being overwritten" in told
    assert "overwritten and taken away" not in told
    assert "The others were overwritten" not in told


def test_a_damaged_inspection_can_be_erased(run: Run, log: Path) -> None:
    """Its folder is gone then."""
    (log / "journal.jsonl").write_bytes(b"\x00" * 200 + b"\n")
    refused = run("erase", log, "--clip", "u2")
    assert (refused.returncode, "voicelog recover" in refused.stderr) == (5, True)
    ok(run("erase", log, "--inspection", given="pickup\n"))
    assert list(log.parent.iterdir()) == []


def test_links_and_other_names_are_not_followed(run: Run, log: Path, tmp_path: Path) -> None:
    """What a link leads to stays; a file with a second name keeps its bytes under that."""
    secret, twin = tmp_path / "secret.flac", tmp_path / "twin.flac"
    secret.write_bytes(b"not yours")
    (log / "clips" / "u2.flac").unlink()
    (log / "clips" / "u2.flac").symlink_to(secret)
    os.link(log / "clips" / "u3.flac", twin)
    whole = twin.read_bytes()
    told = ok(run("erase", log, "--all-sound", "--yes"))
    assert (secret.read_bytes(), twin.read_bytes()) == (b"not yours", whole)
    assert "without being overwritten" in told
    assert clips(log) == ["u2.flac"]
    outside = tmp_path / "outside"
    outside.mkdir()
    (outside / "u4.flac").write_bytes(b"not yours")
    shutil.rmtree(log / "clips")
    (log / "clips").symlink_to(outside)
    ok(run("erase", log, "--inspection", "--yes"))
    assert (outside / "u4.flac").read_bytes() == b"not yours"


@pytest.mark.parametrize("name", ["../../secret.flac", "/etc/hostname", "clips/../../secret.flac"])
def test_hostile_names_lead_nowhere(run: Run, log: Path, tmp_path: Path, name: str) -> None:
    """A line that says its clip lies elsewhere erases nothing there."""
    (log.parent / "secret.flac").write_bytes(b"not yours")
    with Journal.reopen(log) as journal:
        seq = journal.next_seq
        heard = {"engine": "typed", "model": "", "hypotheses": []}
        clip = {"file": name, "sha256": "0" * 64, "start_s": 0.0, "duration_s": 1.0}
        body = {"utterance": f"u{seq}", "heard": heard, "changes": [], "clip": clip}
        journal.append("utterance", body)
    ok(run("erase", log, "--clip", f"u{seq}"))
    assert (log.parent / "secret.flac").read_bytes() == b"not yours"


def test_what_cannot_be_done_is_a_sentence(run: Run, log: Path) -> None:
    """Two things at once, none, an utterance that is not there, a log that somebody writes."""
    for wrong in ((), ("u2",), ("--clip", "u2", "--all-sound"), ("--clip", "u99")):
        done = run("erase", log, *wrong)
        assert (done.returncode, "Traceback" in done.stderr) == (2, False), wrong
    with Journal.reopen(log):
        for wanted in (("--clip", "u2"), ("--all-sound", "--yes"), ("--inspection", "--yes")):
            done = run("erase", log, *wanted)
            assert done.returncode == 8, done.stdout + done.stderr
    assert len(clips(log)) == len(SAID)
