"""``voicelog start`` as a person runs it, without a sound card."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
import threading
import time
from collections.abc import Iterator
from pathlib import Path

import pytest

from voicelog.config.data import samples_dir
from voicelog.journal.reading import read_log, verify

RECORDING = samples_dir() / "d05.flac"
LONGEST_S = 90.0
"""So long a test waits at most: what hangs is killed, and the test fails."""

UNHEARD_OF = "no such microphone anywhere"


@pytest.fixture
def environment(tmp_path: Path) -> dict[str, str]:
    """Away from the user's own settings and logs."""
    kept = {name: value for name, value in os.environ.items() if not name.startswith("VOICELOG_")}
    home = {name: str(tmp_path) for name in ("HOME", "XDG_CONFIG_HOME", "XDG_DATA_HOME")}
    return kept | home | {"NO_COLOR": "1"}


class Started:
    """A running ``voicelog start --plain``."""

    def __init__(self, environment: dict[str, str], folder: Path, *arguments: object) -> None:
        command = [sys.executable, "-m", "voicelog", "start", "--plain", "--ear", "built-in"]
        self.process = subprocess.Popen(
            [*command, "--into", str(folder), *map(str, arguments)],
            stdin=subprocess.PIPE, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True,
            env=environment, encoding="utf-8",
        )  # fmt: skip
        self.shown: list[str] = []
        self.watch = threading.Timer(LONGEST_S, self.process.kill)
        self.watch.daemon = True
        self.watch.start()

    def until(self, text: str) -> None:
        """Read on until a line holds this."""
        assert self.process.stdout is not None
        for line in self.process.stdout:
            self.shown.append(line.rstrip())
            if text in line:
                return
        raise AssertionError("\n".join(self.shown))

    def type(self, line: str) -> None:
        """A line from the keyboard."""
        assert self.process.stdin is not None
        self.process.stdin.write(f"{line}\n")
        self.process.stdin.flush()

    def end(self) -> int:
        """Read the rest; give the exit code."""
        rest, _ = self.process.communicate(timeout=LONGEST_S)
        self.watch.cancel()
        self.shown += rest.splitlines()
        return self.process.returncode


@pytest.fixture
def rehearsal(environment: dict[str, str], tmp_path: Path) -> Iterator[Started]:
    """A rehearsal on one recording; ended whatever becomes of the test."""
    started = Started(environment, tmp_path / "logs", RECORDING)
    yield started
    started.process.kill()
    started.process.wait()


def log_in(folder: Path) -> Path:
    """The only log there."""
    (log,) = folder.glob("*/")
    return log


def test_speech_and_keys_from_the_cautions_to_the_verdict(
    rehearsal: Started, tmp_path: Path
) -> None:
    """The recording is heard, words are typed, and only an affirm finishes it."""
    rehearsal.until("Before you begin")
    rehearsal.type("a")
    rehearsal.until("[Listening]")
    rehearsal.until("e4.1")
    rehearsal.type("left rear rail, hole, thirty millimetres")
    rehearsal.until("[# repair]")
    rehearsal.type("f")
    rehearsal.until("Finish the inspection: affirm?")
    rehearsal.type("a")
    assert rehearsal.end() == 0
    assert any("Verdict on what was said" in line for line in rehearsal.shown)
    log = log_in(tmp_path / "logs")
    assert verify(log).ok
    assert read_log(log).facts[-1].body["reason"] == "finished"
    assert (log / "inspection.json").exists()


def test_the_help_names_keys_and_words(rehearsal: Started) -> None:
    """Typed like any key."""
    rehearsal.until("Microphone:")
    rehearsal.type("?")
    rehearsal.until('Say "affirm"')
    rehearsal.type("q")
    assert rehearsal.end() == 0
    assert any(line.startswith("To go on: voicelog start --resume") for line in rehearsal.shown)


@pytest.mark.skipif(sys.platform == "win32", reason="Windows has no such signals")
def test_a_system_that_shuts_down_ends_it_in_order(rehearsal: Started, tmp_path: Path) -> None:
    """As if a person had stopped it."""
    rehearsal.until("Microphone:")
    rehearsal.type("left sill, surface rust")
    rehearsal.until("surface rust")
    rehearsal.process.send_signal(signal.SIGTERM)
    assert rehearsal.end() == 0
    assert read_log(log_in(tmp_path / "logs")).facts[-1].type == "stopped"


def test_what_was_acknowledged_survives_a_kill(
    rehearsal: Started, environment: dict[str, str], tmp_path: Path
) -> None:
    """And the inspection goes on where it was."""
    rehearsal.until("Microphone:")
    rehearsal.type("left sill, surface rust")
    rehearsal.until("e2.1")
    rehearsal.process.kill()
    rehearsal.process.wait()
    time.sleep(0.1)
    again = Started(environment, tmp_path / "logs", "--resume", "last", RECORDING)
    again.until("Going on with")
    again.type("q")
    assert again.end() == 0
    assert any("cosmetic" in line or "sill" in line for line in again.shown)
    log = log_in(tmp_path / "logs")
    assert verify(log).ok
    types = [fact.type for fact in read_log(log).facts]
    assert types == ["opened", "utterance", "resumed", "stopped"]


def test_without_a_microphone_it_says_what_to_do(
    environment: dict[str, str], tmp_path: Path
) -> None:
    """One line, the code for it, and no log of nothing."""
    started = Started(environment, tmp_path / "logs", "--microphone", UNHEARD_OF, "--no-ask")
    assert started.end() == 6
    (line,) = [line for line in started.shown if line.startswith("voicelog:")]
    assert "microphone" in line.lower() or "PortAudio" in line
    assert not list((tmp_path / "logs").glob("*"))
