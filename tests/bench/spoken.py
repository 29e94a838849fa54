"""Sentences spoken by synthetic voices and heard by the built-in ear, kept so that it is done once.

The sound is made as that of ``audio_samples`` is, by its own script; ``espeak-ng`` joins its voices.
"""

from __future__ import annotations

import hashlib
import importlib.util
import json
import shutil
import subprocess
import tempfile
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any

import numpy as np
import soundfile

from voicelog.config.data import samples_dir
from voicelog.config.grammar import load_grammar
from voicelog.domain.heard import Heard, heard_from_json, heard_to_json
from voicelog.domain.sound import SAMPLE_RATE, Clip
from voicelog.recognise.lookup import open_ear
from voicelog.recognise.port import Ear, hear_clip


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
    make = _studio()
    speaker = utterance.speaker
    voice = {"engine": speaker.engine, "name": speaker.voice, "pitch": speaker.pitch,
             "speed": speaker.speed}  # fmt: skip
    speech = make.speak(utterance.text, voice)
    noise = {"kind": utterance.noise, "snr_db": utterance.snr_db} if utterance.noise else None
    rng = np.random.default_rng(list(utterance.text.encode()))
    sound = make.with_background(speech, noise, rng)
    pcm = np.round(sound * 32767.0).astype("<i2").tobytes()
    return Clip(pcm, 0.0, len(sound) / SAMPLE_RATE)


@cache
def _studio() -> Any:
    """The script that made the bundled recordings, with one more engine."""
    spec = importlib.util.spec_from_file_location("make", samples_dir() / "make.py")
    assert spec is not None
    assert spec.loader is not None
    make = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(make)
    make.ENGINES["espeak"] = _espeak
    return make


def _espeak(text: str, voice: Any) -> tuple[Any, float]:
    """Samples and their rate, from the ``espeak-ng`` command."""
    command = shutil.which("espeak-ng")
    if command is None:
        raise SystemExit("espeak-ng is not installed: apt install espeak-ng")
    with tempfile.TemporaryDirectory() as folder:
        file = Path(folder) / "speech.wav"
        pace = str(round(140 * voice["speed"]))
        options = ["-v", voice["name"], "-s", pace, "-w", str(file), "--stdin"]
        subprocess.run([command, *options], input=text.encode(), check=True)
        sound, rate = soundfile.read(file, dtype="float64")
    return sound, float(rate)
