"""An ear that was asked before: the built-in ear's own words, found again by the loudest moment of a clip.

Loading the built-in ear takes seconds, and a harness that kills hundreds of programs would do nothing
else. Everything around the ear is the product: sound, utterances, dialogue, journal.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Callable, Mapping
from pathlib import Path
from typing import Any

import numpy as np

from voicelog.capture.source import read_audio
from voicelog.domain.heard import Heard, Hypothesis, Word, heard_from_json, heard_to_json
from voicelog.recognise.port import Ear, Expected

WINDOW = 200
"""Samples on both sides of the loudest one: where a clip begins and ends depends on the room."""

Known = dict[str, dict[str, Any]]
"""What was heard, by the mark of its sound."""


def mark_of(pcm: bytes) -> str:
    """What tells a clip of a recording from all others, wherever it was cut."""
    samples = np.frombuffer(pcm, "<i2")
    loudest = int(np.abs(samples.astype(np.int32)).argmax()) if len(samples) else 0
    near = samples[max(0, loudest - WINDOW) : loudest + WINDOW]
    return hashlib.sha256(near.tobytes()).hexdigest()[:16]


class NotingEar:
    """Hears with another ear, and notes down what it hears.

    Args:
        ear: which.
        known: where it is noted down.
    """

    def __init__(self, ear: Ear, known: Known) -> None:
        self._ear, self._known, self._pcm = ear, known, bytearray()
        self.engine, self.model = ear.engine, ear.model

    def expect(self, expected: Expected) -> None:
        """As the other."""
        self._ear.expect(expected)

    def feed(self, pcm: bytes) -> None:
        """As the other."""
        self._pcm += pcm
        self._ear.feed(pcm)

    def partial(self) -> str:
        """As the other."""
        return self._ear.partial()

    def finish(self) -> Heard:
        """What the other hears."""
        heard = self._ear.finish()
        self._known[mark_of(bytes(self._pcm))] = heard_to_json(heard)
        self._pcm.clear()
        return heard

    def forget(self) -> None:
        """As the other."""
        self._pcm.clear()
        self._ear.forget()

    def close(self) -> None:
        """As the other."""
        self._ear.close()


class RememberingEar:
    """Tells what was heard in the same sound before; no words where nobody has heard it.

    Args:
        known: what was heard.
    """

    engine, model = "built-in", "as it was heard before"

    def __init__(self, known: Known) -> None:
        self._known, self._pcm = known, bytearray()

    def expect(self, expected: Expected) -> None:
        """Nothing changes what was heard."""

    def feed(self, pcm: bytes) -> None:
        """More sound of the open utterance."""
        self._pcm += pcm

    def partial(self) -> str:
        """It shows nothing."""
        return ""

    def finish(self) -> Heard:
        """The words for the sound."""
        document = self._known.get(mark_of(bytes(self._pcm)))
        self._pcm.clear()
        return heard_from_json(document) if document else Heard((), self.engine, self.model)

    def forget(self) -> None:
        """The open utterance is dropped."""
        self._pcm.clear()

    def close(self) -> None:
        """There is nothing to let go."""


def as_written(recordings: Mapping[Path, str]) -> Known:
    """The words that recordings were made from, as if the ear heard exactly them: quick, for tests.

    Args:
        recordings: with their words.
    """
    known: Known = {}
    for path, said in recordings.items():
        words = tuple(Word(word) for word in said.split())
        heard = Heard((Hypothesis(said, 0.0, words),), RememberingEar.engine, RememberingEar.model)
        known[mark_of(b"".join(read_audio(path)))] = heard_to_json(heard)
    return known


def known_from(file: Path, hear: Callable[[Path], None]) -> Known:
    """What the built-in ear hears in the recordings; heard once, then read from the file.

    Args:
        file: where it is kept, as JSON.
        hear: writes that file.
    """
    if not file.exists():
        hear(file)
    known: Known = json.loads(file.read_text(encoding="utf-8"))
    return known
