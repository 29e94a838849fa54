"""``voicelog doctor``: the microphones it lists, and trying one out."""

from __future__ import annotations

import math
from collections.abc import Callable
from pathlib import Path

import numpy as np
import pytest
import soxr
from click.testing import CliRunner, Result

from voicelog.capture import devices, microphone, playback
from voicelog.capture.pretend import PretendLibrary
from voicelog.capture.rehearse import played
from voicelog.cli import doctor_listen
from voicelog.cli.doctor import doctor
from voicelog.config.data import samples_dir
from voicelog.errors import MicrophoneFault
from voicelog.runtime.listen_check import Shown
from voicelog.runtime.listen_verdict import Levels

Run = Callable[..., Result]


@pytest.fixture
def run(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Run:
    """The command on a pretended sound system, away from the tester's settings."""
    for name in ("HOME", "XDG_CONFIG_HOME", "XDG_DATA_HOME"):
        monkeypatch.setenv(name, str(tmp_path))

    def call(library: PretendLibrary, *arguments: str) -> Result:
        for module in (devices, microphone, playback):
            monkeypatch.setattr(module, "portaudio", lambda: library)
        return CliRunner().invoke(doctor, arguments)

    return call


def _talking(name: str = "lapel", *, telephone: bool = False) -> PretendLibrary:
    """A microphone that hears a sentence of the demo again and again."""
    sound = played([samples_dir() / "d01.flac"] * 2, pause_s=0.2, rate_hz=48_000)
    if telephone:
        whole = np.concatenate(list(sound))
        sound = iter([soxr.resample(soxr.resample(whole, 48_000, 8_000), 8_000, 48_000)])
    return PretendLibrary(sound, name=name, rate_hz=48_000, speed=60.0)


def test_lists_every_microphone_with_its_number(run: Run) -> None:
    """Number, name, rate, channels, which is the system's, which will be used."""
    told = run(_talking()).output
    assert "*  0  lapel (pretended, 48000 Hz, 1 channel)" in told
    assert "will listen: lapel" in told
    assert "voicelog doctor --listen" in told


def test_without_a_microphone_it_says_so(run: Run) -> None:
    """And leaves with success: recordings need none."""
    library = _talking()
    library.fate.seen = False
    result = run(library)
    assert "none found; plug one in" in result.output
    assert result.exit_code == 0


def test_wrong_name_is_told_in_the_list(run: Run) -> None:
    """The rest of doctor's words still come."""
    told = run(_talking(), "--microphone", "desk").output
    assert "There is no microphone 'desk'" in told
    assert "Storage" in told


def test_listen_prints_figures_and_plays_back(run: Run) -> None:
    """Not on a terminal: a line a second, the outcome, three seconds to the speaker."""
    library = _talking()
    result = run(library, "--listen")
    assert result.exit_code == 0, result.output
    assert "Listening to lapel." in result.output
    assert result.output.count("level: ") == 5
    assert result.output.count("recording: ") == 3
    assert "Good. Leave it as it is." in result.output
    assert np.concatenate(library.heard).shape == (pytest.approx(3 * 48_000, abs=2000), 2)


def test_listen_tells_of_a_headset_in_telephone_mode(run: Run) -> None:
    """Its level is good, so only what to do about its sound is said."""
    told = " ".join(run(_talking(telephone=True), "--listen").output.split())
    assert "Telephone sound, nothing above 4 kHz. A wireless headset sounds like that" in told
    assert "Leave it as it is" not in told


def test_listen_names_the_missing_microphone(run: Run) -> None:
    """One clear error."""
    result = run(_talking(), "--listen", "--microphone", "desk")
    assert isinstance(result.exception, MicrophoneFault)


def test_missing_speaker_does_not_spoil_the_check(
    run: Run, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The figures come all the same."""
    library = _talking()

    def refuse(**_asked: object) -> None:
        raise library.PortAudioError("Device unavailable")

    monkeypatch.setattr(library, "OutputStream", refuse, raising=False)
    told = run(library, "--listen").output
    assert "Not played: The speaker 'lapel' cannot be opened (Device unavailable)" in told
    assert "Speech -" in told


@pytest.mark.parametrize("level_dbfs", [-math.inf, -96.0, -72.0, -30.0, 0.0, 6.0])
def test_bar_keeps_its_width(level_dbfs: float) -> None:
    """Whatever the level: the bar, its mark for the noise, and the figures in words."""
    levels = Levels(-20.0, -60.0)
    level = max(level_dbfs, -1000.0)
    bar = doctor_listen._bar(Shown(True, level, levels, 1.25)).plain
    cells = bar.splitlines()[0][-doctor_listen.WIDTH :]
    assert set(cells) <= {"█", "·", "|"}
    assert cells.count("|") == 1
    assert "noise -60 dBFS, so far good" in bar
