"""One sentence spoken at the bench, through a pretended microphone."""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import Any

import numpy as np
import pytest

from voicelog.capture.endpoint import Endpointer
from voicelog.capture.incoming import Ended, Source
from voicelog.capture.pretend import PretendLibrary
from voicelog.capture.rehearse import microphone_of
from voicelog.config.grammar import Grammar
from voicelog.config.settings import Settings
from voicelog.domain.heard import Heard, Hypothesis
from voicelog.errors import EarFault, MicrophoneFault, UsageFault
from voicelog.recognise.port import Expected
from voicelog.runtime.dictation import dictate

RATE = 16_000


class Loud:
    """A detector that takes loud sound for speech."""

    def speech(self, pcm: bytes) -> float:
        """By its first sample."""
        return float(abs(int.from_bytes(pcm[:2], "little", signed=True)) > 100)

    def reset(self) -> None:
        """Nothing to forget."""


class Ear:
    """Hears the same words in everything, and notes that it was let go."""

    engine, model = "pretended", ""

    def __init__(self, text: str = "left sill, hole") -> None:
        self.text, self.samples, self.closed = text, 0, False

    def expect(self, expected: Expected) -> None:
        """Whatever it is."""

    def feed(self, pcm: bytes) -> None:
        """Count it."""
        self.samples += len(pcm) // 2

    def finish(self) -> Heard:
        """The same words."""
        return Heard((Hypothesis(self.text),), "pretended")

    def close(self) -> None:
        """Let go."""
        self.closed = True


def sound(*seconds: float) -> list[Any]:
    """Loud and quiet by turns, loud first."""
    parts = [
        np.full((round(length * RATE), 1), 0.3 if n % 2 == 0 else 0.0, np.float32)
        for n, length in enumerate(seconds)
    ]
    return [np.concatenate(parts)] if parts else []


def opened(*seconds: float) -> tuple[Callable[[], Source], list[Any]]:
    """Opens a microphone that hears this, and what was opened."""
    made: list[Any] = []

    def open_it() -> Source:
        library = PretendLibrary(sound(*seconds), speed=math.inf)
        made.append(microphone_of(library))
        return made[-1]

    return open_it, made


def listen(shipped_grammar: Grammar, source: Callable[[], Source], ear: Ear, **more: Any) -> Any:
    """Listen to one sentence."""
    return dictate(
        Settings(), shipped_grammar, source, ear=lambda *_: ear,  # type: ignore[arg-type, return-value]
        endpointer=lambda: Endpointer(detector=Loud()), **more,
    )  # fmt: skip


def test_one_utterance_is_heard(shipped_grammar: Grammar) -> None:
    """The first one; what comes after it is nobody's business, and all is let go."""
    source, made = opened(1.5, 1.2, 1.5, 1.2)
    ear, told = Ear(), list[str]()
    heard, clip = listen(shipped_grammar, source, ear, listening=lambda: told.append("now"))
    assert heard.text == "left sill, hole"
    assert told == ["now"]
    assert 1.5 <= clip.duration_s < 2.5
    assert ear.samples == clip.samples
    assert ear.closed
    assert isinstance(made[0].read(0.0), Ended)


def test_nobody_speaks(shipped_grammar: Grammar) -> None:
    """It gives up, and says so."""
    source, made = opened(0.0, 3.0)
    with pytest.raises(UsageFault, match="Nobody was heard"):
        listen(shipped_grammar, source, Ear(), patience_s=1.0)
    assert len(made) == 1


def test_it_is_stopped(shipped_grammar: Grammar) -> None:
    """Whoever pressed Escape waits for nothing."""
    source, _ = opened(1.0, 9.0)
    with pytest.raises(UsageFault):
        listen(shipped_grammar, source, Ear(), stopped=lambda: True)


def test_nothing_is_understood(shipped_grammar: Grammar) -> None:
    """There was a voice, and no words in it."""
    source, _ = opened(1.5, 1.2)
    ear = Ear("  ")
    with pytest.raises(UsageFault, match="Nothing was understood"):
        listen(shipped_grammar, source, ear)
    assert ear.closed


def test_no_microphone_lets_the_ear_go(shipped_grammar: Grammar) -> None:
    """The fault is the microphone's own."""

    def none() -> Source:
        raise MicrophoneFault("There is no microphone", "Plug one in")

    ear = Ear()
    with pytest.raises(MicrophoneFault):
        listen(shipped_grammar, none, ear)
    assert ear.closed


def test_no_ear_opens_no_microphone(shipped_grammar: Grammar) -> None:
    """Nobody is told to speak in vain."""
    source, made = opened(1.5, 1.2)

    def deaf(*_: Any) -> Any:
        raise EarFault("There is no ear", "Install one")

    with pytest.raises(EarFault):
        dictate(Settings(), shipped_grammar, source, ear=deaf)
    assert made == []
