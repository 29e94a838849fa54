"""Which voice is opened, and what ``voicelog doctor`` can tell about each."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest

from voicelog.announce import lookup
from voicelog.announce.lookup import open_voice, voices
from voicelog.announce.voice import NoVoice, Voice
from voicelog.domain.choices import VOICES
from voicelog.errors import UsageFault, VoiceFault


def _missing() -> Voice:
    raise VoiceFault("It is not installed", "Install it")


@pytest.fixture
def machine(monkeypatch: pytest.MonkeyPatch, talker: Any) -> Callable[..., None]:
    """A function that says which voices a machine has."""

    def has(*names: str) -> None:
        made = {name: (lambda: talker) if name in names else _missing for name in lookup._OPEN}
        monkeypatch.setattr(lookup, "_OPEN", made)
        for check in ("model_file", "command"):
            monkeypatch.setattr(lookup, check, _missing)

    return has


def test_auto_takes_the_first_there_is(machine: Any, monkeypatch: pytest.MonkeyPatch) -> None:
    """The built-in one, then the command."""
    order = list(lookup._OPEN)
    assert order == ["built-in", "espeak-ng"]
    machine("espeak-ng")
    assert open_voice("auto").name == "talker"


def test_auto_without_any_is_silent_and_knows_why(machine: Any) -> None:
    """Both reasons, each with its next step."""
    machine()
    voice = open_voice("auto")
    assert isinstance(voice, NoVoice)
    assert voice.why.count("It is not installed. Install it") == 2


@pytest.mark.parametrize("name", ["built-in", "espeak-ng"])
def test_a_named_voice_that_is_missing_is_a_fault(machine: Any, name: str) -> None:
    """Nobody is given another voice, or none, in its place; code 6 like a missing ear."""
    machine()
    with pytest.raises(VoiceFault, match="not installed") as caught:
        open_voice(name)
    assert caught.value.exit_code == 6


def test_none_is_none(machine: Any) -> None:
    """Chosen, so without a reason."""
    machine("built-in")
    voice = open_voice("none")
    assert isinstance(voice, NoVoice)
    assert voice.why == ""


def test_an_unknown_name_lists_the_known_ones() -> None:
    """As for ears."""
    with pytest.raises(UsageFault, match="no voice 'loud'") as caught:
        open_voice("loud")
    assert all(name in caught.value.hint for name in VOICES)


def test_doctor_learns_what_is_there_and_how_to_get_the_rest(machine: Any) -> None:
    """A line for each, in the order of ``auto``; the last one always works."""
    machine()
    found = voices()
    assert [status.name for status in found] == list(VOICES[1:])
    assert [status.ready for status in found] == [False, False, True]
    assert found[0].hint == "Install it"


def test_the_installed_built_in_voice_is_ready() -> None:
    """Checked without loading it."""
    status = voices()[0]
    assert status.ready
    assert "hibari-tts" in status.detail
