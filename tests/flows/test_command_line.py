"""The command line from outside: exit codes, one plain line on standard error, no traceback."""

from __future__ import annotations

import json
import subprocess
import wave
from collections.abc import Callable
from pathlib import Path

import pytest

from voicelog.config.data import samples_dir
from voicelog.export.contract import validate

Run = Callable[..., "subprocess.CompletedProcess[str]"]
RUST = "left front rail, surface rust, metal is firm"


def _told_in_one_line(done: subprocess.CompletedProcess[str]) -> str:
    """The one line of a failure; lines of a list of faults are indented below it."""
    assert "Traceback" not in done.stdout + done.stderr
    first, *faults = done.stderr.splitlines()
    assert first.startswith("voicelog: ")
    assert all(line.startswith("  ") for line in faults)
    return first


def _wav(path: Path, samples: bytes) -> Path:
    with wave.open(str(path), "wb") as out:
        out.setparams((1, 2, 16_000, 0, "NONE", ""))
        out.writeframes(samples)
    return path


def _log(run: Run, into: Path) -> Path:
    assert run("read", RUST, "scraper went through it", "--into", into).returncode == 0
    (folder,) = into.iterdir()
    return folder


def test_a_missing_file(run: Run, tmp_path: Path) -> None:
    """Told before anything starts, so that no log is begun."""
    done = run("hear", "nowhere.wav", "--into", tmp_path / "logs")
    assert (done.returncode, done.stdout) == (3, "")
    assert "nowhere.wav" in _told_in_one_line(done)
    assert not (tmp_path / "logs").exists()


@pytest.mark.parametrize("contents", [b"", b"only a few words\n" * 9], ids=["empty", "text"])
def test_a_file_without_sound(run: Run, tmp_path: Path, contents: bytes) -> None:
    """An empty file and a text file called .wav are no recordings."""
    (tmp_path / "walk.wav").write_bytes(contents)
    done = run("hear", "walk.wav", "--into", tmp_path / "logs")
    assert done.returncode == 3
    assert "walk.wav" in _told_in_one_line(done)


def test_a_truncated_recording(run: Run, tmp_path: Path) -> None:
    """The fault is told, and what could be heard before it is in a whole log."""
    import soundfile

    samples, rate = soundfile.read(samples_dir() / "d07.flac", dtype="int16")
    assert rate == 16_000
    whole = _wav(tmp_path / "walk.wav", samples.tobytes() + bytes(320_000))
    whole.write_bytes(whole.read_bytes()[: 44 + len(samples) * 2 + 32_000])
    done = run("hear", whole, "--into", tmp_path / "logs")
    assert done.returncode == 3
    _told_in_one_line(done)
    (folder,) = (tmp_path / "logs").iterdir()
    assert run("verify", folder).returncode == 0
    assert '"control-arm-mount"' in (folder / "journal.jsonl").read_text("utf-8")


def test_silence_is_no_failure(run: Run, tmp_path: Path) -> None:
    """Nobody spoke: nothing to report, and the work was done."""
    done = run("hear", _wav(tmp_path / "hush.wav", bytes(96_000)), "--json", "--into", tmp_path)
    assert (done.returncode, done.stderr) == (0, "")
    assert json.loads(done.stdout)["entries"] == []


def test_an_unknown_map(run: Run) -> None:
    """The maps that do exist are named."""
    done = run("read", RUST, "--map", "nowhere")
    assert (done.returncode, done.stdout) == (2, "")
    assert "ladder-frame" in _told_in_one_line(done)


@pytest.mark.parametrize(
    ("words", "place"),
    [("slot = \n", "shop.toml:1"),
     ('[[meaning]]\nslot = "condition"\nvalue = "holes"\nsay = ["x y"]\n', "shop.toml:3")],
    ids=["no TOML", "no such condition"],
)  # fmt: skip
def test_broken_words(run: Run, tmp_path: Path, words: str, place: str) -> None:
    """The fault is told with file and line."""
    (tmp_path / "shop.toml").write_text(words, "utf-8")
    done = run("read", RUST, "--words", "shop.toml")
    assert (done.returncode, done.stdout) == (4, "")
    _told_in_one_line(done)
    assert place in done.stderr


def test_a_log_from_a_newer_version(run: Run, tmp_path: Path) -> None:
    """It is refused rather than misread."""
    folder = _log(run, tmp_path / "logs")
    journal = folder / "journal.jsonl"
    lines = journal.read_text("utf-8").splitlines(keepends=True)
    fact = json.loads(lines[0])
    version = next(name for name in fact if "version" in name or name == "v")
    fact[version] = 99
    journal.write_text(json.dumps(fact) + "\n", "utf-8")
    done = run("export", folder)
    assert (done.returncode, done.stdout) == (5, "")
    assert "format 99" in _told_in_one_line(done)


def test_a_damaged_log(run: Run, tmp_path: Path) -> None:
    """A changed line is refused by export and told by verify."""
    folder = _log(run, tmp_path / "logs")
    journal = folder / "journal.jsonl"
    journal.write_bytes(journal.read_bytes().replace(b"surface-rust", b"surface-gust"))
    done = run("export", folder)
    assert (done.returncode, done.stdout) == (5, "")
    _told_in_one_line(done)
    checked = run("verify", folder)
    assert checked.returncode == 5
    assert "Traceback" not in checked.stderr


@pytest.mark.parametrize(
    "arguments", [["--nope"], ["read", RUST, "--nope"], ["read"], ["polish"]], ids=str
)
def test_wrong_usage(run: Run, arguments: list[str]) -> None:
    """Unknown flags and commands, and a command without its words."""
    done = run(*arguments)
    assert (done.returncode, done.stdout) == (2, "")
    assert "--help" in _told_in_one_line(done)


def test_no_command_shows_the_help(run: Run) -> None:
    """The commands are listed, and nothing was done."""
    done = run()
    assert done.returncode == 2
    assert "demo" in done.stdout + done.stderr
    assert "Traceback" not in done.stderr


def test_read_prints_json_alone(run: Run) -> None:
    """One object that fits the contract, nothing beside it; lines of standard input as well."""
    done = run("read", "-", "--json", given=f"{RUST}\nwhat time is lunch\n")
    assert (done.returncode, done.stderr) == (0, "")
    document = json.loads(done.stdout)
    validate(document, "answer")
    assert [entry["kind"] for entry in document["entries"]] == ["finding", "remark"]


def test_hear_prints_json_alone(run: Run, tmp_path: Path) -> None:
    """Two recordings, one inspection, one object."""
    clips = [samples_dir() / "d01.flac", samples_dir() / "d07.flac"]
    done = run("hear", *clips, "--json", "--into", tmp_path / "logs")
    assert (done.returncode, done.stderr) == (0, "")
    document = json.loads(done.stdout)
    validate(document, "answer")
    zones = [entry.get("zone") for entry in document["entries"]]
    assert zones == ["frame-horn", "control-arm-mount"]


def test_last_is_the_newest_log_for_export_and_verify_too(run: Run, tmp_path: Path) -> None:
    """As it is for review, amend and sign; without one it says where it looked."""
    run("read", "left sill, hole", "--into", tmp_path)
    assert run("verify", "last", "--into", tmp_path).returncode == 0
    exported = run("export", "last", "--into", tmp_path)
    assert json.loads(exported.stdout)["entries"][0]["condition"] == "hole"
    for command in ("verify", "export"):
        nowhere = run(command, "last", "--into", tmp_path / "none")
        assert (nowhere.returncode, nowhere.stdout) == (3, "")
        assert "--into" in nowhere.stderr


def test_export_and_verify(run: Run, tmp_path: Path) -> None:
    """A log written by read is whole, and its export fits the contract, to a file and aloud."""
    folder = _log(run, tmp_path / "logs")
    done = run("export", folder, "--to", "json", "-o", tmp_path / "out.json")
    assert (done.returncode, done.stderr) == (0, "")
    document = json.loads((tmp_path / "out.json").read_text("utf-8"))
    validate(document, "inspection")
    assert json.loads(run("export", folder).stdout) == document
    (entry,) = document["entries"]
    assert (entry["condition"], entry["probe"]) == ("hole", "through")
    assert run("verify", folder).returncode == 0


@pytest.mark.parametrize(
    "arguments", [["doctor"], ["model", "list"], ["words", "check"], ["--version"], ["-h"]], ids=str
)
def test_commands_that_only_tell(run: Run, arguments: list[str]) -> None:
    """They say something, complain of nothing, and leave with 0."""
    done = run(*arguments)
    assert (done.returncode, done.stderr) == (0, "")
    assert done.stdout.strip()
