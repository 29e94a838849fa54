"""Rooms and noises of the speech set, all made from a seed by numpy.

The studio of the bundled recordings makes those that may be tuned on (``compressor``, ``impacts``, ``air-tool``,
``shop``). Two more are kept out of any tuning and training: a grinding disc on steel, and a jet of
water on sheet metal. A room is an exponentially decaying tail of noise after the direct sound.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from voicelog.domain.sound import SAMPLE_RATE
from yardstick.voices import Sound, studio

TUNING = ("compressor", "impacts", "air-tool", "shop")
KEPT_OUT = ("disc", "jet", "shop")
"""What the kept-out voices speak in: two kinds that nothing was tuned on, and everything at once."""


@dataclass(frozen=True, slots=True)
class Condition:
    """Where somebody speaks.

    Args:
        name: in the tables.
        snr_db: speech over noise; None in a quiet place.
        room_s: how long the room takes to fall by 60 dB; 0 without echo.
    """

    name: str
    snr_db: float | None = None
    room_s: float = 0.0


CONDITIONS = (
    Condition("quiet"),
    Condition("echo", room_s=0.5),
    Condition("20 dB", 20.0),
    Condition("10 dB", 10.0),
    Condition("5 dB", 5.0),
    Condition("0 dB", 0.0),
)


def disc(length: int, rng: np.random.Generator) -> Sound:
    """A grinding disc: a whine of many partials that sags under load, over bright hiss."""
    time = np.arange(length) / SAMPLE_RATE
    load = np.interp(time, *_wander(length, rng, every_s=0.4))
    turns = np.cumsum(180.0 * (1.0 - 0.25 * load)) / SAMPLE_RATE
    whine = np.zeros(length)
    for partial in range(1, 30):
        shift = rng.uniform(0, 2 * np.pi)
        whine += np.sin(2 * np.pi * partial * turns + shift) / partial**0.5
    hiss = np.diff(rng.standard_normal(length + 1)) * (0.2 + load)
    return _even(whine) + _even(hiss)


def jet(length: int, rng: np.random.Generator) -> Sound:
    """Water on sheet metal: broad hiss that swells and sinks, and the sheet drumming under it."""
    time = np.arange(length) / SAMPLE_RATE
    swell = 0.4 + np.interp(time, *_wander(length, rng, every_s=0.25))
    drum = np.zeros(length)
    for hertz in rng.uniform(90.0, 700.0, 8):
        beat = np.interp(time, *_wander(length, rng, every_s=0.03))
        drum += beat * np.sin(2 * np.pi * hertz * time + rng.uniform(0, 2 * np.pi))
    return _even(swell * rng.standard_normal(length)) + _even(drum)


MAKERS = {"disc": disc, "jet": jet}


def make_noise(kind: str, length: int, rng: np.random.Generator) -> Sound:
    """So many samples of a kind of noise, of mean power 1."""
    return _even((studio().NOISES | MAKERS)[kind](length, rng))


def mixed(speech: Sound, condition: Condition, kind: str, rng: np.random.Generator) -> Sound:
    """Speech as a microphone takes it under a condition, with lead-in and tail.

    Args:
        speech: 16 kHz, shape (samples,).
        condition: room and loudness of the noise.
        kind: of noise, from :data:`TUNING` or :data:`KEPT_OUT`.
        rng: makes the noise.
    """
    make = studio()
    make.NOISES.update(MAKERS)
    if condition.room_s:
        speech = echoing(speech, condition.room_s, rng)
    noise = None if condition.snr_db is None else {"kind": kind, "snr_db": condition.snr_db}
    return np.asarray(make.with_background(speech, noise, rng))


def echoing(speech: Sound, room_s: float, rng: np.random.Generator) -> Sound:
    """Speech in a hard room, at the level it had: the tail starts 6 dB below the direct sound in sum."""
    length = int(room_s * SAMPLE_RATE)
    decay = np.exp(-6.91 * np.arange(length) / length)  # 60 dB
    tail = decay * rng.standard_normal(length)
    tail *= 0.5 / np.sqrt(np.sum(np.square(tail)))
    answer = np.concatenate([[1.0], np.zeros(int(0.004 * SAMPLE_RATE)), tail])
    size = len(speech) + len(answer) - 1
    sound = np.fft.irfft(np.fft.rfft(speech, size) * np.fft.rfft(answer, size), size)
    return np.asarray(sound * np.sqrt(np.sum(np.square(speech)) / np.sum(np.square(sound))))


def _even(sound: Sound) -> Sound:
    return np.asarray(sound / np.sqrt(np.mean(np.square(sound))))


def _wander(length: int, rng: np.random.Generator, *, every_s: float) -> tuple[Sound, Sound]:
    """Moments and values between 0 and 1, to be joined by lines."""
    moments = np.arange(0.0, length / SAMPLE_RATE + 2 * every_s, every_s)
    return moments, rng.uniform(0.0, 1.0, len(moments))
