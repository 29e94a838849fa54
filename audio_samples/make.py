"""Makes the demo recordings: ``python audio_samples/make.py [ID ...]``, run from anywhere.

Reads ``scenario.toml`` beside it, speaks every utterance (or only the ids given), adds the noise
asked for and writes ``<id>.flac`` (16 kHz, one channel, 16 bit) and ``manifest.json``. The same
tools and the same seed give the same samples again. Nothing is fetched.

Tools, needed for making only: ``pip install hibari-tts==0.2.1 numpy soxr soundfile`` and the
``flite`` 2.2 command (Debian package ``flite``; its voices slt, rms and awb are built in).
All speech is synthetic; several voices take turns, as if two people shared the job. The licence of
each voice is in the scenario and in the manifest; voices whose terms, or whose training data's
terms, leave the spread of their output in doubt were left out. The lowered voice is the same model
played slower, spoken faster to make up for it. Voices and wordings were chosen by listening through
the built-in recogniser, so figures measured on these clips flatter it; the noise was not chosen.

Every clip has 0.6 s of background before the speech and 1.0 s after it. Clips without noise get a
room tone of -72 dBFS, so that a speech detector never meets digital silence. The noise is made by
numpy and is none of anybody's recordings:

- ``pink``: noise falling by 3 dB an octave;
- ``compressor``: a 49 Hz motor hum with its harmonics, beating slowly, over pink noise;
- ``impacts``: hammer blows, three ringing modes dying away within 0.1 s, over pink noise;
- ``air-tool``: bursts of a ratchet, hissing and chopped 42 times a second, over pink noise;
- ``shop``: all four.

SNR is the mean power of the speech over the frames that hold speech (20 ms frames within 30 dB of
the loudest), against the mean power of the noise from the first to the last of these frames.

The manifest's keys: ``voices``; ``utterances``, in the order in which they are spoken, each with
``want`` (the entries it makes, given all that was said before), ``amends`` and ``withdraws``
(what it does to an earlier entry: ``of`` is the utterance that made it, ``nth`` which of its
entries), ``chatter`` (nothing may come of it), ``reason`` (words of the reason why a place was not
seen) and ``speed`` (pace of the voice, 1 when missing); and ``final``, all entries that stand at
the end, in order, each with the utterance that made it under ``from``.
"""

from __future__ import annotations

import functools
import hashlib
import json
import shutil
import subprocess
import sys
import tempfile
import tomllib
from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Any

import numpy as np
import soundfile
import soxr
from hibari import Hibari
from numpy.typing import NDArray

Sound = NDArray[np.float64]

HERE = Path(__file__).resolve().parent
RATE = 16_000
LEAD_S = 0.6
TAIL_S = 1.0
SPEECH_DBFS = -24.0
ROOM_DBFS = -72.0
PEAK = 0.97
FRAME = RATE // 50


def amplitude(decibels: float) -> float:
    """The factor of an amplitude that so many dB stand for."""
    return float(10.0 ** (decibels / 20.0))


def rms(sound: Sound) -> float:
    """Root mean square of the samples."""
    return float(np.sqrt(np.mean(np.square(sound))))


# --- speech ---------------------------------------------------------------------------------


@functools.cache
def hibari() -> Hibari:
    """The neural voice, loaded once."""
    return Hibari()


def speak_hibari(text: str, voice: Mapping[str, Any]) -> tuple[Sound, float]:
    """Samples and their rate; a pitch under 1 lowers the voice at the same pace."""
    pitch = float(voice.get("pitch", 1.0))
    pace = float(voice.get("speed", 1.0)) / pitch
    sound = hibari()(text, speed=pace, seed=0)
    return np.asarray(sound, dtype=np.float64), Hibari.sample_rate * pitch


def speak_flite(text: str, voice: Mapping[str, Any]) -> tuple[Sound, float]:
    """Samples and their rate, from the ``flite`` command."""
    command = shutil.which("flite")
    if command is None:
        sys.exit("flite is not installed: apt-get install flite")
    stretch = 1.0 / float(voice.get("speed", 1.0))
    with tempfile.TemporaryDirectory() as folder:
        file = Path(folder) / "speech.wav"
        options = ["-voice", voice["name"], "--setf", f"duration_stretch={stretch}"]
        subprocess.run([command, *options, "-t", text, "-o", str(file)], check=True)  # noqa: S603 - our own text
        sound, rate = soundfile.read(file, dtype="float64")
    return sound, float(rate)


ENGINES = {"hibari": speak_hibari, "flite": speak_flite}


def speak(text: str, voice: Mapping[str, Any]) -> Sound:
    """The text at 16 kHz, without silence around it, at the common speech level."""
    sound, rate = ENGINES[voice["engine"]](text, voice)
    sound = soxr.resample(sound, rate, RATE, quality="VHQ")
    active = active_frames(sound)
    sound = sound[: len(active) * FRAME]
    spoken = sound[np.repeat(active, FRAME)]
    first, last = np.flatnonzero(active)[[0, -1]]
    cut = sound[max(first - 2, 0) * FRAME : (last + 3) * FRAME]
    return np.asarray(cut * amplitude(SPEECH_DBFS) / rms(spoken))


def active_frames(sound: Sound) -> NDArray[np.bool_]:
    """One truth a whole 20 ms frame: does it lie within 30 dB of the loudest frame?"""
    frames = sound[: len(sound) // FRAME * FRAME].reshape(-1, FRAME)
    level = np.sqrt(np.mean(np.square(frames), axis=1))
    return np.asarray(level > level.max() * amplitude(-30.0))


# --- noise: each maker gives `length` samples of mean power about 1 ---------------------------


def pink(length: int, rng: np.random.Generator) -> Sound:
    """Noise whose power falls by 3 dB an octave, from 30 Hz up."""
    spectrum = np.fft.rfft(rng.standard_normal(length))
    hertz = np.fft.rfftfreq(length, 1.0 / RATE)
    sound = np.fft.irfft(spectrum / np.sqrt(np.maximum(hertz, 30.0)), length)
    return np.asarray(sound / rms(sound))


def compressor(length: int, rng: np.random.Generator) -> Sound:
    """A motor's hum with harmonics that fall off, beating slowly, over pink noise."""
    time = np.arange(length) / RATE
    hum = np.zeros(length)
    for harmonic in range(1, 25):
        phase = rng.uniform(0.0, 2.0 * np.pi)
        hum += np.sin(2.0 * np.pi * 49.0 * harmonic * time + phase) / harmonic**0.7
    hum *= 1.0 + 0.3 * np.sin(2.0 * np.pi * 1.3 * time)
    return hum / rms(hum) + 0.5 * pink(length, rng)


def impacts(length: int, rng: np.random.Generator) -> Sound:
    """Hammer blows about twice a second: three ringing modes each, over pink noise."""
    blows = np.zeros(length + RATE)
    time = np.arange(RATE // 2) / RATE
    at = int(rng.uniform(0.05, 0.3) * RATE)
    while at < length:
        for hertz in rng.uniform(400.0, 4500.0, 3):
            ring = np.exp(-time / rng.uniform(0.01, 0.04)) * np.sin(2.0 * np.pi * hertz * time)
            blows[at : at + len(ring)] += ring * rng.uniform(0.4, 1.0)
        at += int(rng.uniform(0.3, 0.8) * RATE)
    return blows[:length] / rms(blows[:length]) + 0.5 * pink(length, rng)


def air_tool(length: int, rng: np.random.Generator) -> Sound:
    """Bursts of a ratchet, 0.25 to 0.6 s each: bright hiss chopped at 42 Hz, over pink noise."""
    hiss = np.diff(rng.standard_normal(length + 1))
    chop = 0.3 + np.square(np.sin(np.pi * 42.0 * np.arange(length) / RATE))
    gate = np.zeros(length)
    at = int(rng.uniform(0.1, 0.5) * RATE)
    while at < length:
        burst = int(rng.uniform(0.25, 0.6) * RATE)
        gate[at : at + burst] = 1.0
        at += burst + int(rng.uniform(0.3, 0.9) * RATE)
    tool = hiss * chop * np.convolve(gate, np.ones(160) / 160.0, mode="same")
    return tool / rms(tool) + 0.5 * pink(length, rng)


def shop(length: int, rng: np.random.Generator) -> Sound:
    """Everything at once."""
    return sum((make(length, rng) for make in (compressor, impacts, air_tool)), np.zeros(length))


NOISES = {
    "pink": pink,
    "compressor": compressor,
    "impacts": impacts,
    "air-tool": air_tool,
    "shop": shop,
}


def with_background(
    speech: Sound, noise: Mapping[str, Any] | None, rng: np.random.Generator
) -> Sound:
    """The speech with lead-in and tail, over its noise at the stated SNR or over a room tone."""
    lead, tail = int(LEAD_S * RATE), int(TAIL_S * RATE)
    sound = np.concatenate([np.zeros(lead), speech, np.zeros(tail)])
    if noise is None:
        mixed = sound + pink(len(sound), rng) * amplitude(ROOM_DBFS)
    else:
        background = NOISES[noise["kind"]](len(sound), rng)
        background /= rms(background[lead:-tail])
        mixed = sound + background * amplitude(SPEECH_DBFS - noise["snr_db"])
    return np.asarray(mixed * min(1.0, PEAK / np.abs(mixed).max()))


# --- files ----------------------------------------------------------------------------------


def record(utterance: Mapping[str, Any], scenario: Mapping[str, Any]) -> None:
    """Writes the clip of one utterance; its noise hangs on the seed and on its id alone."""
    voices = scenario["voices"]
    voice = {"name": utterance["voice"], "speed": 1.0, **voices[utterance["voice"]]}
    voice["speed"] *= utterance.get("speed", 1.0)
    rng = np.random.default_rng([scenario["seed"], *utterance["id"].encode()])
    speech = speak(utterance["text"], voice)
    sound = with_background(speech, utterance.get("noise"), rng)
    file = HERE / f"{utterance['id']}.flac"
    soundfile.write(file, np.round(sound * 32767.0).astype(np.int16), RATE, format="FLAC")


def described(utterance: Mapping[str, Any], voices: Mapping[str, Any]) -> dict[str, Any]:
    """The utterance as the manifest tells it."""
    file = HERE / f"{utterance['id']}.flac"
    facts = {
        "file": file.name,
        "noise": None,
        "chatter": False,
        "licence": voices[utterance["voice"]]["licence"],
        "sha256": hashlib.sha256(file.read_bytes()).hexdigest(),
        "duration_s": soundfile.info(file).duration,
        "want": [],
    }
    return {"id": utterance["id"], **facts, **utterance}


def final(utterances: Sequence[Mapping[str, Any]]) -> list[dict[str, Any]]:
    """Every entry that stands at the end, corrected and in order."""
    entries: dict[tuple[str, int], dict[str, Any]] = {}
    for utterance in utterances:
        for nth, entry in enumerate(utterance.get("want", [])):
            entries[utterance["id"], nth] = {"from": utterance["id"], **entry}
        for change in utterance.get("amends", []):
            entries[change["of"], change["nth"]].update(change["set"])
        for change in utterance.get("withdraws", []):
            del entries[change["of"], change["nth"]]
    return list(entries.values())


def main(wanted: Sequence[str]) -> None:
    """Makes the clips asked for (all when none is) and the manifest of all of them."""
    scenario = tomllib.loads((HERE / "scenario.toml").read_text(encoding="utf-8"))
    utterances = scenario.pop("utterance")
    for utterance in utterances:
        if not wanted or utterance["id"] in wanted:
            record(utterance, scenario)
    manifest = scenario | {
        "sample_rate": RATE,
        "utterances": [described(utterance, scenario["voices"]) for utterance in utterances],
        "final": final(utterances),
    }
    text = json.dumps(manifest, indent=1, ensure_ascii=False)
    (HERE / "manifest.json").write_text(f"{text}\n", encoding="utf-8")


if __name__ == "__main__":
    main(sys.argv[1:])
