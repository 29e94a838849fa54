"""The voice that the wheel carries: found, checked, never fetched, harmless to feed."""

from __future__ import annotations

import importlib.util
import socket
import urllib.request
from pathlib import Path
from types import SimpleNamespace

import numpy as np
import pytest

from voicelog.announce import built_in_voice
from voicelog.announce.built_in_voice import BuiltInVoice, model_file
from voicelog.errors import VoiceFault

READ_BACK = "left rear rail, hole, thirty five millimetres"


@pytest.fixture(scope="module")
def voice() -> BuiltInVoice:
    """Loaded once."""
    return BuiltInVoice()


def test_it_speaks_a_sentence_in_about_the_time_a_person_needs(voice: BuiltInVoice) -> None:
    """Sound, not noise: one to five seconds, well above silence, within range."""
    spoken = voice.speak(READ_BACK)
    assert 1.0 < spoken.length_s < 5.0
    assert spoken.samples.dtype == np.float32
    assert 0.02 < np.sqrt(np.mean(spoken.samples**2)) < 0.5
    assert np.abs(spoken.samples).max() <= 1.0


def test_the_same_text_gives_the_same_sound(voice: BuiltInVoice) -> None:
    """Seeded: no surprise in a test, and none for a person."""
    assert np.array_equal(voice.speak("hole").samples, voice.speak("hole").samples)


def test_words_begin_at_once(voice: BuiltInVoice) -> None:
    """No more than a breath before the first sound."""
    loud = np.flatnonzero(np.abs(voice.speak(READ_BACK).samples) > 0.02)
    assert loud[0] / voice.speak("hole").rate_hz < 0.1


@pytest.mark.parametrize(
    "text",
    ["35 mm", "side-to-side cross-member", "Ünïcödé 漢字 🙂", "9" * 60, "1,000" + ",000" * 12,
     "\x1b[2J\x00 hole", "\ud800 hole", "[hole](/x/)", "e2.1", "3/16", "a" * 400, "½", "12:75"],
)  # fmt: skip
def test_odd_text_is_spoken_without_harm(voice: BuiltInVoice, text: str) -> None:
    """Some of these make the engine fail when they are given to it as they are."""
    assert 0.2 < voice.speak(text).length_s < 60.0


@pytest.mark.parametrize("text", ["", " ", "...", "\x00", "🙂", "漢字"])
def test_what_cannot_be_said_is_silence(voice: BuiltInVoice, text: str) -> None:
    """And no fault."""
    assert voice.speak(text).length_s == 0.0


def test_it_never_asks_the_network(monkeypatch: pytest.MonkeyPatch) -> None:
    """The package knows how to fetch voices; loading and speaking do not even look for one."""

    def refuse(*args: object, **options: object) -> None:
        raise AssertionError("the network was asked")

    import hibari.voices

    for where, name in (
        (urllib.request, "urlopen"), (socket, "create_connection"), (hibari.voices, "download"),
        (hibari.voices, "voice_path"),
    ):  # fmt: skip
        monkeypatch.setattr(where, name, refuse)
    monkeypatch.setattr("hibari.tts.voice_path", refuse)
    assert BuiltInVoice().speak("hole").length_s > 0.2


def test_the_ear_keeps_a_core(monkeypatch: pytest.MonkeyPatch) -> None:
    """One thread is asked for, and the model is given by its path."""
    asked: dict[str, object] = {}

    def engine(**options: object) -> SimpleNamespace:
        asked.update(options)
        return SimpleNamespace(sample_rate=24_000)

    monkeypatch.setattr("hibari.Hibari", engine)
    BuiltInVoice().speak("")
    assert asked == {"model": str(model_file()), "threads": 1}


def _elsewhere(monkeypatch: pytest.MonkeyPatch, folder: Path) -> Path:
    """Pretend that the package is installed in a folder."""
    real = importlib.util.find_spec
    spec = SimpleNamespace(origin=str(folder / "__init__.py"))
    monkeypatch.setattr(
        importlib.util, "find_spec", lambda name: spec if name == "hibari" else real(name)
    )
    (folder / "assets").mkdir()
    return folder / "assets" / "hibari.onnx"


def test_an_altered_model_is_refused(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    """Before anything is loaded, with the way to get the right one."""
    _elsewhere(monkeypatch, tmp_path).write_bytes(b"something else")
    with pytest.raises(VoiceFault, match="not the one voicelog was made for") as caught:
        BuiltInVoice()
    assert "hibari-tts==0.2.1" in caught.value.hint


def test_a_missing_model_is_told(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    """The file's name and the reason."""
    _elsewhere(monkeypatch, tmp_path)
    with pytest.raises(VoiceFault, match="hibari.onnx cannot be read"):
        BuiltInVoice()


@pytest.mark.parametrize("missing", ["hibari", "onnxruntime"])
def test_missing_packages_come_with_their_command(
    monkeypatch: pytest.MonkeyPatch, missing: str
) -> None:
    """Both are in one extra."""
    real = importlib.util.find_spec
    monkeypatch.setattr(
        importlib.util, "find_spec", lambda name: None if name == missing else real(name)
    )
    with pytest.raises(VoiceFault, match="not installed") as caught:
        model_file()
    assert "voicelog[voice]" in caught.value.hint


def test_an_engine_that_fails_is_one_clear_fault(
    monkeypatch: pytest.MonkeyPatch, voice: BuiltInVoice
) -> None:
    """Whatever it raised, the person reads a sentence and a next step."""

    def fail(*args: object, **options: object) -> None:
        raise IndexError("list index out of range")

    monkeypatch.setattr(built_in_voice, "pieces", fail)
    with pytest.raises(VoiceFault, match="failed \\(IndexError\\)"):
        voice.speak("hole")
