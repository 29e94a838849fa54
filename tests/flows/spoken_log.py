"""A small inspection as it is kept: heard, with its clips, so that it can be damaged or erased."""

from __future__ import annotations

import random
from pathlib import Path

import pytest

from voicelog.config.settings import Settings
from voicelog.domain.heard import Heard, Hypothesis
from voicelog.domain.sound import SAMPLE_RATE, Clip
from voicelog.runtime.opening import open_listening

SAID = (
    "left sill, surface rust, metal is firm",
    "left front rail, crack",
    "make that the right front rail",
    "hole on the left kick-up, scale on the right",
    "both rear rails scale",
)
"""A finding, one that is unsafe, a correction of it, two in one sentence, and one more."""


class Scripted:
    """An ear that hears one text after another."""

    engine, model = "built-in", "scripted"

    def __init__(self, texts: tuple[str, ...]) -> None:
        self._texts = list(texts)

    def feed(self, pcm: bytes) -> None:
        """Whatever it is."""

    def finish(self) -> Heard:
        """The next text."""
        return Heard((Hypothesis(self._texts.pop(0)),), self.engine, self.model)

    def expect(self, phrases: object) -> None:
        """It hears what it hears."""

    def close(self) -> None:
        """Nothing."""


def spoken_log(parent: Path, texts: tuple[str, ...] = SAID, *, noise: int = 1) -> Path:
    """A finished log in which this was said."""
    chance = random.Random(noise)
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr("voicelog.runtime.opening.open_the_ear", lambda *_, **__: Scripted(texts))
        settings = Settings(into=parent, second_ear="off")
        with open_listening(settings, subject="pickup") as session:
            for number in range(len(texts)):
                sound = chance.randbytes(2 * (4000 + number))
                at_s = 10.0 * number
                session.hear(Clip(sound, at_s, at_s + len(sound) / 2 / SAMPLE_RATE))
            session.close("finished")
            assert session.folder is not None
    return session.folder
