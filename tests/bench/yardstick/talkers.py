"""People who talk about something else, and a radio: minutes of speech to lay over noise."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from voicelog.domain.sound import SAMPLE_RATE
from yardstick.voices import VOICES, Sound, speak, studio

TALK_PAUSE_S = (1.0, 5.0)
TALK_GAIN_DB = (-10.0, 2.0)
"""Over the studio's speech level (-24 dBFS): from across the shop to right beside the microphone."""
RADIO_PAUSE_S = (0.2, 1.2)
RADIO_GAIN_DB = (-14.0, -4.0)
RADIO_HERTZ = (300.0, 3400.0)
BED_DB = -12.0
"""The radio's own music under its speech."""
BEAT_S = 0.5
SCALE = (220.0, 246.9, 277.2, 329.6, 370.0, 440.0)
"""A pentatonic scale from A."""


class Talker:
    """Goes through its lines again and again, each time in another order and voice.

    Args:
        lines: what is said.
        voices: their names.
        seed: settles order and voices.
    """

    def __init__(self, lines: Sequence[str], voices: Sequence[str], seed: int) -> None:
        self._lines, self._rng = lines, np.random.default_rng(seed)
        self._voices = [voice for voice in VOICES if voice.name in voices]
        self._order: list[int] = []

    def next(self) -> Sound:
        """The next line, spoken."""
        if not self._order:
            self._order = list(map(int, self._rng.permutation(len(self._lines))))
        voice = self._voices[int(self._rng.integers(len(self._voices)))]
        return speak(self._lines[self._order.pop()], voice)


def talk_scene(talker: Talker, seconds: float, rng: np.random.Generator) -> Sound:
    """So many seconds in which somebody says something now and then."""
    return laid(talker, seconds, rng, TALK_PAUSE_S, TALK_GAIN_DB)


def radio_scene(talker: Talker, seconds: float, rng: np.random.Generator) -> Sound:
    """So many seconds of a radio: narrow, low, talking over its music."""
    gain_db = float(rng.uniform(*RADIO_GAIN_DB))
    said = laid(talker, seconds, rng, RADIO_PAUSE_S, (gain_db, gain_db))
    make = studio()
    level = make.amplitude(make.SPEECH_DBFS + gain_db + BED_DB)
    return narrow(said + level * music(len(said), rng))


def laid(
    talker: Talker,
    seconds: float,
    rng: np.random.Generator,
    pause_s: tuple[float, float],
    gain_db: tuple[float, float],
) -> Sound:
    """Lines with pauses between them; one that does not fit any more is left out."""
    sound = np.zeros(int(seconds * SAMPLE_RATE))
    at = int(rng.uniform(*pause_s) * SAMPLE_RATE)
    while True:
        line = talker.next() * studio().amplitude(rng.uniform(*gain_db))
        if at + len(line) > len(sound):
            return sound
        sound[at : at + len(line)] += line
        at += len(line) + int(rng.uniform(*pause_s) * SAMPLE_RATE)


def narrow(sound: Sound) -> Sound:
    """What a small loudspeaker lets through."""
    spectrum = np.fft.rfft(sound)
    hertz = np.fft.rfftfreq(len(sound), 1 / SAMPLE_RATE)
    spectrum[(hertz < RADIO_HERTZ[0]) | (hertz > RADIO_HERTZ[1])] = 0
    return np.asarray(np.fft.irfft(spectrum, len(sound)))


def music(length: int, rng: np.random.Generator) -> Sound:
    """Something like a tune: two plucked notes a beat, of mean power 1."""
    sound = np.zeros(length + 2 * SAMPLE_RATE)
    time = np.arange(SAMPLE_RATE) / SAMPLE_RATE
    for at in range(0, length, int(BEAT_S * SAMPLE_RATE)):
        for hertz in rng.choice(SCALE, 2, replace=False):
            partials = sum(np.sin(2 * np.pi * hertz * n * time) / n for n in range(1, 6))
            sound[at : at + SAMPLE_RATE] += partials * np.exp(-4 * time)
    sound = sound[:length]
    return np.asarray(sound / np.sqrt(np.mean(np.square(sound))))
