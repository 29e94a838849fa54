"""The espeak-ng command: what it is given, and what becomes of what it gives."""

from __future__ import annotations

import stat
from pathlib import Path

import numpy as np
import pytest

from voicelog.announce import espeak_voice
from voicelog.announce.espeak_voice import EspeakVoice, command
from voicelog.errors import VoiceFault

RATE_HZ = 22_050


def _wav(seconds: float) -> bytes:
    """As the real one writes it to a pipe: a header that claims two gigabytes."""
    sound = (np.sin(np.arange(round(seconds * RATE_HZ)) / 10) * 10_000).astype("<i2").tobytes()
    head = b"RIFF\x24\xf0\xff\x7fWAVEfmt \x10\0\0\0\1\0\1\0" + RATE_HZ.to_bytes(4, "little")
    return head + (2 * RATE_HZ).to_bytes(4, "little") + b"\2\0\x10\0data\0\xf0\xff\x7f" + sound


class Installed:
    """A command on a path of its own, which notes its arguments and its input."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder

    def put(self, name: str, then: str = "cat {folder}/wav") -> None:
        """Put a command there that does something after noting."""
        script = self.folder / name
        script.write_text(
            f'#!/bin/sh\nPATH=/usr/bin:/bin\nprintf "%s\\n" "$0" "$@" > {self.folder}/arguments\n'
            f"cat > {self.folder}/input\n{then.format(folder=self.folder)}\n"
        )
        script.chmod(script.stat().st_mode | stat.S_IXUSR)

    def noted(self, what: str) -> str:
        """Its ``arguments`` or its ``input``."""
        return (self.folder / what).read_text()


@pytest.fixture
def installed(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Installed:
    """Nothing yet; and nothing else on the path."""
    (tmp_path / "wav").write_bytes(_wav(0.5))
    monkeypatch.setenv("PATH", str(tmp_path))
    return Installed(tmp_path)


def test_a_sentence_becomes_sound(installed: Installed) -> None:
    """At the rate that the header tells, though the header lies about the length."""
    installed.put("espeak-ng")
    spoken = EspeakVoice().speak("left rear rail")
    assert spoken.rate_hz == RATE_HZ
    assert spoken.length_s == pytest.approx(0.5, abs=0.01)
    assert installed.noted("input") == "left rear rail"


def test_words_are_never_arguments(installed: Installed) -> None:
    """Given on standard input, so that no word can be an option or meet a shell."""
    installed.put("espeak-ng")
    EspeakVoice().speak("--path=/ $(touch x); `id` -w out.wav [[markup]]")
    assert "touch" not in installed.noted("arguments")
    assert "[[" not in installed.noted("input")
    assert not Path("x").exists()


def test_the_forerunner_will_do(installed: Installed) -> None:
    """``espeak`` where there is no ``espeak-ng``; the newer one where there are both."""
    installed.put("espeak")
    assert command().endswith("/espeak")
    installed.put("espeak-ng")
    assert command().endswith("/espeak-ng")


def test_missing_is_told_with_the_command_to_get_it(installed: Installed) -> None:
    """Nothing is found on an empty path."""
    with pytest.raises(VoiceFault, match="not installed") as caught:
        EspeakVoice()
    assert "apt install espeak-ng" in caught.value.hint


@pytest.mark.parametrize("then", ["exit 3", "kill -9 $$"])
def test_a_command_that_fails_is_one_clear_fault(installed: Installed, then: str) -> None:
    """It ended badly, or was killed."""
    installed.put("espeak-ng", then)
    with pytest.raises(VoiceFault, match="espeak-ng failed"):
        EspeakVoice().speak("hole")


@pytest.mark.parametrize("then", ["true", "echo no sound here", "printf RIFFdat"])
def test_what_is_no_wav_is_refused(installed: Installed, then: str) -> None:
    """Nothing, text, a torn header."""
    installed.put("espeak-ng", then)
    with pytest.raises(VoiceFault, match="gave no sound"):
        EspeakVoice().speak("hole")


def test_a_command_that_hangs_is_given_up(
    installed: Installed, monkeypatch: pytest.MonkeyPatch
) -> None:
    """After a while, which the test shortens."""
    monkeypatch.setattr(espeak_voice, "LONGEST_S", 0.1)
    installed.put("espeak-ng", "exec sleep 5")
    with pytest.raises(VoiceFault, match="TimeoutExpired"):
        EspeakVoice().speak("hole")


def test_nothing_to_say_starts_no_process(installed: Installed) -> None:
    """Nor does text of which nothing is left."""
    installed.put("espeak-ng", "exit 3")
    assert EspeakVoice().speak("\x00...").length_s == 0.0
