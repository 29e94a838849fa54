"""``voicelog sounds``: drawn, played to a pretended speaker, said, and written to files."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from click.testing import CliRunner, Result

from voicelog.announce.announcer import Announcer
from voicelog.announce.player import Player
from voicelog.announce.voice import NoVoice, Spoken
from voicelog.cli import sounds as command
from voicelog.cli.sounds import sounds
from voicelog.domain.signal import Signal
from voicelog.errors import StorageFault, UsageFault, VoiceFault


class Said:
    """An announcer that notes instead of sounding."""

    audible, why = True, ""

    def __init__(self) -> None:
        self.done: list[str] = []

    def say(self, text: str) -> None:
        """Note the words."""
        self.done.append(f"say {text}")

    def signal(self, signal: Signal) -> None:
        """Note the tone."""
        self.done.append(f"tone {signal}")

    def wait(self, timeout_s: float) -> bool:
        """Note that it was waited for."""
        self.done.append("wait")
        return True

    def close(self) -> None:
        """Note the end."""
        self.done.append("close")


class Voice:
    """A tenth of a second for everything."""

    name = "short"

    def speak(self, text: str) -> Spoken:
        """A constant."""
        return Spoken(np.full(800, 0.5, np.float32), 8_000)


@pytest.fixture
def said(monkeypatch: pytest.MonkeyPatch) -> Said:
    """A machine with a speaker and a voice."""
    said = Said()
    monkeypatch.setattr(command, "open_announcer", lambda *_args, **_options: said)
    monkeypatch.setattr(command, "open_voice", lambda _name: Voice())
    return said


@pytest.fixture
def silent(monkeypatch: pytest.MonkeyPatch) -> None:
    """A machine with a voice and no speaker."""

    def opened(voice: str, speaker: str | None, on_fault: Callable[[str], None]) -> Announcer:
        return Announcer(Player(silent="No speaker \x1b[2J here"), NoVoice(), on_fault=on_fault)

    monkeypatch.setattr(command, "open_announcer", opened)
    monkeypatch.setattr(command, "open_voice", lambda _name: Voice())


def _run(*arguments: str, **more: Any) -> Result:
    return CliRunner(**more).invoke(sounds, arguments)


def test_every_tone_is_named_drawn_explained_and_played(said: Said) -> None:
    """Its name is said before it; the next waits for its end; the speaker is let go."""
    result = _run()
    lines = result.stdout.splitlines()
    assert [line.split()[0] for line in lines] == list(Signal)
    assert "▄ ▆" in lines[0]
    assert lines[0].endswith("an entry was made and is on disk")
    assert max(map(len, lines)) <= 80
    assert said.done[:4] == ["say finding", "wait", "tone finding", "wait"]
    assert said.done.count("wait") == 2 * len(Signal)
    assert said.done[-1] == "close"


def test_a_terminal_that_knows_only_ascii_gets_ascii() -> None:
    """Drawn with other characters, and no question marks."""
    result = _run(charset="ascii")
    assert result.exit_code == 0
    assert result.stdout.isascii()
    assert "- ^" in result.stdout


@pytest.mark.usefixtures("silent")
def test_without_a_speaker_everything_is_shown_with_the_reason() -> None:
    """And how to listen elsewhere; nothing of the reason can steer the terminal."""
    result = _run()
    assert result.exit_code == 0
    assert len(result.stdout.split("\n\n")[0].splitlines()) == len(Signal)
    assert "Nothing was played. No speaker ?[2J here." in result.stdout
    assert "voicelog sounds --write DIR" in result.stdout


@pytest.mark.usefixtures("silent")
@pytest.mark.parametrize("arguments", [("--speaker", "headset"), ("--say", "hole")])
def test_a_speaker_that_was_asked_for_must_be_there(arguments: tuple[str, str]) -> None:
    """So must one to say something with."""
    assert isinstance(_run(*arguments).exception, VoiceFault)


def test_a_sentence_is_said_alone(said: Said) -> None:
    """Without the tones."""
    assert _run("--say", "left rear rail, hole").exit_code == 0
    assert said.done == ["say left rear rail, hole", "wait", "close"]


def test_tones_are_written_where_asked(tmp_path: Path, said: Said) -> None:
    """One file for each; nothing is played."""
    result = _run("--write", str(tmp_path / "out"))
    assert len(list((tmp_path / "out").glob("*.wav"))) == len(Signal)
    assert f"Written: {len(Signal)} WAV files" in result.stdout
    assert said.done == []


def test_a_sentence_is_written_where_asked(tmp_path: Path, said: Said) -> None:
    """Only that."""
    assert _run("--write", str(tmp_path), "--say", "hole").exit_code == 0
    assert [path.name for path in tmp_path.iterdir()] == ["said.wav"]


def test_what_cannot_be_done_is_a_clear_fault(tmp_path: Path) -> None:
    """No voice to say it with, no folder to write to, no such voice."""
    assert isinstance(_run("--say", "hole", "--voice", "none").exception, UsageFault)
    (tmp_path / "file").write_text("")
    assert isinstance(_run("--write", str(tmp_path / "file")).exception, StorageFault)
    assert _run("--voice", "loud").exit_code == 2


def test_a_machine_without_any_voice_says_why(monkeypatch: pytest.MonkeyPatch) -> None:
    """All reasons, before a speaker is looked for."""
    monkeypatch.setattr(command, "open_voice", lambda _name: NoVoice("Neither this. Nor that"))
    fault = _run("--say", "hole").exception
    assert isinstance(fault, VoiceFault)
    assert "Neither this. Nor that" in str(fault)


def test_what_went_wrong_on_the_way_is_told_at_the_end(monkeypatch: pytest.MonkeyPatch) -> None:
    """A speaker lost in the middle: on standard error, inert."""

    def opened(voice: str, speaker: str | None, on_fault: Callable[[str], None]) -> Said:
        on_fault("The speaker \x07 is lost")
        return Said()

    monkeypatch.setattr(command, "open_announcer", opened)
    assert "voicelog: The speaker ? is lost" in _run().stderr
