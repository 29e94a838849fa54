"""Sentences spoken by synthetic voices and heard by the built-in ear, kept so that it is done once.

The sound is made as that of ``audio_samples`` is, by its own script, with the yardstick's engines.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cache
from pathlib import Path

import numpy as np
from yardstick.voices import studio

from voicelog.config.grammar import load_grammar
from voicelog.domain.heard import Heard, heard_from_json, heard_to_json
from voicelog.domain.sound import SAMPLE_RATE, Clip
from voicelog.recognise.lookup import open_ear
from voicelog.recognise.port import Ear, hear_clip

ESPEAK_PACE = 140 / 150
"""Of these people's espeak-ng, against that of the yardstick."""


@dataclass(frozen=True)
class Speaker:
    """A synthetic person.

    Args:
        name: unique.
        engine: ``hibari`` or ``espeak``.
        voice: of espeak-ng.
        pitch: of hibari, 1 as it is.
        speed: pace.
    """

    name: str
    engine: str
    voice: str = ""
    pitch: float = 1.0
    speed: float = 1.0


@dataclass(frozen=True)
class Utterance:
    """A sentence as somebody says it somewhere.

    Args:
        text: the sentence.
        speaker: who says it.
        noise: kind of noise, empty for a quiet room.
        snr_db: speech over noise.
    """

    text: str
    speaker: Speaker
    noise: str = ""
    snr_db: float = 15.0


def hear(utterances: Sequence[Utterance], folder: Path) -> Iterator[Heard]:
    """What the ear makes of each, from the folder where it was heard before.

    Raises:
        SystemExit: espeak-ng is not installed.
    """
    folder.mkdir(parents=True, exist_ok=True)
    for utterance in utterances:
        file = folder / f"{hashlib.sha256(repr(utterance).encode()).hexdigest()[:24]}.json"
        if not file.exists():
            found = hear_clip(_ear(), _clip(utterance))
            file.write_text(json.dumps({"said": utterance.text} | heard_to_json(found)))
        yield heard_from_json(json.loads(file.read_text()))


@cache
def _ear() -> Ear:
    """With the shipped vocabulary and bias."""
    words = load_grammar().vocabulary
    return open_ear("built-in", phrases=words.telling(), classes=words.classes())


def _clip(utterance: Utterance) -> Clip:
    make = studio()
    speaker = utterance.speaker
    speed = speaker.speed * (ESPEAK_PACE if speaker.engine == "espeak" else 1.0)
    voice = {"engine": speaker.engine, "name": speaker.voice, "pitch": speaker.pitch,
             "speed": speed}  # fmt: skip
    speech = make.speak(utterance.text, voice)
    noise = {"kind": utterance.noise, "snr_db": utterance.snr_db} if utterance.noise else None
    rng = np.random.default_rng(list(utterance.text.encode()))
    sound = make.with_background(speech, noise, rng)
    pcm = np.round(sound * 32767.0).astype("<i2").tobytes()
    return Clip(pcm, 0.0, len(sound) / SAMPLE_RATE)
