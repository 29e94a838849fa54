"""What the training speech meets on its way to the microphone, made on the GPU for a whole batch at once.

Every parameter is drawn anew for every clip. Nothing here imitates the kept-out noises of the speech
set: no tone that sags under load, no hiss that swells at random.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import Any

import torch

RATE = 16_000
Sounds = Any  # a float tensor of shape (clips, samples)


def uniform(count: int, low: float, high: float, like: Sounds) -> Sounds:
    """One number a clip, shape (clips, 1)."""
    return torch.rand(count, 1, device=like.device) * (high - low) + low


def level(sounds: Sounds) -> Sounds:
    """Root mean square of each clip, shape (clips, 1)."""
    return sounds.square().mean(-1, keepdim=True).sqrt().clamp_min(1e-6)


def even(sounds: Sounds) -> Sounds:
    """At a level of 1."""
    return sounds / level(sounds)


def shaped(sounds: Sounds, *, tilt: tuple[float, float], bumps: float) -> Sounds:
    """Through a random smooth filter: a tilt in powers of the frequency and some bumps in dB."""
    spectrum = torch.fft.rfft(sounds)
    return torch.fft.irfft(
        spectrum * curve(len(sounds), spectrum.shape[-1], sounds, tilt, bumps), sounds.shape[-1]
    )


def curve(count: int, bins: int, like: Sounds, tilt: tuple[float, float], bumps: float) -> Sounds:
    """Gains of random smooth filters, shape (clips, bins)."""
    hertz = torch.linspace(0, RATE / 2, bins, device=like.device)[None]
    octaves = torch.log2(hertz.clamp_min(40.0) / 1000.0)
    decibels = -3.01 * uniform(count, *tilt, like) * octaves
    for _ in range(3):
        middle, width = uniform(count, -4, 3, like), uniform(count, 0.3, 1.5, like)
        decibels = decibels + uniform(count, -bumps, bumps, like) * torch.exp(
            -((octaves - middle) / width).square()
        )
    return 10 ** (decibels.clamp(-60, 60) / 20)


def coloured(count: int, length: int, like: Sounds, _: Sounds) -> Sounds:
    """Steady noise of any colour."""
    return even(
        shaped(torch.randn(count, length, device=like.device), tilt=(-0.7, 2.2), bumps=12.0)
    )


def hum(count: int, length: int, like: Sounds, others: Sounds) -> Sounds:
    """A motor that keeps its pace: harmonics that fall off, beating, over steady noise."""
    time = torch.arange(length, device=like.device)[None] / RATE
    base, fall = uniform(count, 22, 260, like), uniform(count, 0.2, 1.6, like)
    sound = torch.zeros(count, length, device=like.device)
    for harmonic in range(1, 28):
        phase, loud = uniform(count, 0, 2 * math.pi, like), uniform(count, 0.2, 1, like)
        heard = (base * harmonic < 7500).float()
        sound += (
            heard * loud * torch.sin(2 * math.pi * base * harmonic * time + phase) / harmonic**fall
        )
    beat = 1 + uniform(count, 0, 0.6, like) * torch.sin(
        2 * math.pi * uniform(count, 0.3, 12, like) * time
    )
    return even(
        even(sound * beat) + uniform(count, 0.05, 1.0, like) * coloured(count, length, like, others)
    )


def impacts(count: int, length: int, like: Sounds, others: Sounds) -> Sounds:
    """Blows at random moments, each clip with its own ring, over steady noise."""
    chance = uniform(count, 0.7, 7, like) / RATE
    blows = (torch.rand(count, length, device=like.device) < chance) * (
        0.3 + torch.rand(count, length, device=like.device)
    )
    time = torch.arange(RATE // 2, device=like.device)[None] / RATE
    ring = torch.zeros(count, RATE // 2, device=like.device)
    for _ in range(5):
        decay, hertz = (
            uniform(count, 0.004, 0.08, like),
            torch.exp(uniform(count, math.log(150), math.log(6500), like)),
        )
        ring += (
            uniform(count, 0.2, 1, like)
            * torch.exp(-time / decay)
            * torch.sin(2 * math.pi * hertz * time)
        )
    ring += uniform(count, 0, 1, like) * torch.exp(-time / 0.004) * torch.randn_like(ring)
    return even(
        even(convolved(blows, ring))
        + uniform(count, 0.05, 0.8, like) * coloured(count, length, like, others)
    )


def chopped(count: int, length: int, like: Sounds, others: Sounds) -> Sounds:
    """Bursts of hiss, chopped at a steady pace."""
    time = torch.arange(length, device=like.device)[None] / RATE
    chop = torch.sin(math.pi * uniform(count, 8, 90, like) * time).abs() ** uniform(
        count, 0.5, 4, like
    )
    slots = torch.rand(count, 2 + length // 4000, device=like.device) < uniform(
        count, 0.25, 0.9, like
    )
    gate = slots.float().repeat_interleave(4000, 1)[:, :length]
    gate = torch.nn.functional.avg_pool1d(gate[:, None], 161, 1, 80)[:, 0]
    hiss = shaped(torch.randn(count, length, device=like.device), tilt=(-1.6, 0.6), bumps=10.0)
    return even(
        hiss * gate * (0.15 + chop)
        + uniform(count, 0.02, 0.5, like) * coloured(count, length, like, others)
    )


def babble(count: int, length: int, like: Sounds, others: Sounds) -> Sounds:
    """Several others who speak at once."""
    sound = torch.zeros(count, length, device=like.device)
    time = torch.arange(length, device=like.device)[None]
    for n in range(7):
        begins = torch.randint(max(1, len(others) - length), (count, 1), device=like.device)
        weight = uniform(count, 0.2, 1, like) * (
            uniform(count, 0, 1, like) < (1.0 if n < 3 else 0.6)
        )
        sound += weight * others[begins + time].float() / 32768
    return even(shaped(sound, tilt=(-0.2, 0.8), bumps=4.0))


def squeal(count: int, length: int, like: Sounds, others: Sounds) -> Sounds:
    """Some steady tones that come and go, over steady noise."""
    time = torch.arange(length, device=like.device)[None] / RATE
    sound = torch.zeros(count, length, device=like.device)
    for _ in range(3):
        slots = torch.rand(count, 2 + length // 5000, device=like.device) < uniform(
            count, 0.2, 1.2, like
        )
        gate = torch.nn.functional.avg_pool1d(
            slots.float().repeat_interleave(5000, 1)[:, None, :length], 801, 1, 400
        )[:, 0]
        hertz = torch.exp(uniform(count, math.log(300), math.log(5500), like))
        sound += uniform(count, 0, 1, like) * gate * torch.sin(2 * math.pi * hertz * time)
    return even(
        even(sound + 1e-4) * uniform(count, 0.2, 1, like) + coloured(count, length, like, others)
    )


KINDS: tuple[Callable[[int, int, Sounds, Sounds], Sounds], ...] = (
    coloured,
    hum,
    impacts,
    chopped,
    babble,
    squeal,
)
SHARES = (0.27, 0.22, 0.17, 0.2, 0.09, 0.05)


LENGTH = 196_608
"""Samples of a noise in the bank (12.3 s); a longer clip meets its noise again."""
ROWS = 16
"""Noises made at once: always as many, so that the transforms' plans are kept."""


class Bank:
    """Some thousands of noises that are made anew bit by bit.

    Args:
        size: how many.
        speech: sentences one after another, int16, from which babble is mixed.
    """

    def __init__(self, size: int, speech: Sounds) -> None:
        self.sounds = torch.zeros(size, LENGTH, dtype=torch.float16, device=speech.device)
        self.others = torch.zeros(size, dtype=torch.bool, device=speech.device)
        self._like, self._next = torch.zeros(1, device=speech.device), 0
        for _ in range(size // ROWS):
            self.renew(speech)

    def renew(self, speech: Sounds) -> None:
        """Make a few of them anew, all of one kind."""
        kind = int(torch.multinomial(torch.tensor(SHARES), 1))
        made = KINDS[kind](ROWS, LENGTH, self._like, speech)
        rows = slice(self._next, self._next + ROWS)
        self.sounds[rows], self.others[rows] = made.clamp(-60, 60).half(), KINDS[kind] is babble
        self._next = (self._next + ROWS) % len(self.sounds)

    def drawn(self, count: int, length: int, *, mute: bool = False) -> Sounds:
        """Noises at a level of 1; ``mute`` leaves out those in which others speak."""
        time = torch.arange(length, device=self.sounds.device)[None]
        rows = torch.randint(len(self.sounds), (count, 1), device=self.sounds.device)
        at = (torch.randint(LENGTH, (count, 1), device=self.sounds.device) + time) % LENGTH
        made = self.sounds[rows, at].float()
        return made * ~self.others[rows[:, 0]][:, None] if mute else made

    def mixed(self, count: int, length: int) -> Sounds:
        """One kind, or two or three of them at once."""
        made = self.drawn(count, length)
        for share in (0.45, 0.2):
            here = uniform(count, 0, 1, made) < share
            made = made + here * uniform(count, 0.2, 1.2, made) * self.drawn(count, length)
        return even(made)


def convolved(sounds: Sounds, answers: Sounds) -> Sounds:
    """Each sound through its own answer, as long as it was."""
    size = 1 << (sounds.shape[-1] + answers.shape[-1]).bit_length()
    return torch.fft.irfft(torch.fft.rfft(sounds, size) * torch.fft.rfft(answers, size), size)[
        :, : sounds.shape[-1]
    ]


def transferred(clean: Sounds) -> Sounds:
    """Through a room, a microphone and a line of its own each, or through some of them only."""
    count, tail_length = len(clean), int(0.8 * RATE)
    size = 131_072 if clean.shape[-1] + tail_length <= 131_072 else 262_144
    bins = size // 2 + 1
    hertz = torch.linspace(1, RATE / 2, bins, device=clean.device)[None]
    some = lambda share: (torch.rand(count, 1, device=clean.device) < share).float()  # noqa: E731
    gain = curve(count, bins, clean, (-1.0, 1.2), 6.0) ** some(0.6)
    low, high = uniform(count, 1, 250, clean), uniform(count, 3300, 8000, clean)
    gain = (
        gain
        * ((1 + (low / hertz) ** 4).rsqrt() ** some(0.4))
        * ((1 + (hertz / high) ** 8).rsqrt() ** some(0.15))
    )
    time = torch.arange(tail_length, device=clean.device)[None] / RATE
    decay = torch.exp(-6.91 * time / uniform(count, 0.08, 0.85, clean)) * (
        time > uniform(count, 0.001, 0.02, clean)
    )
    tail = torch.randn(count, tail_length, device=clean.device) * decay
    loud = some(0.5) * 10 ** (uniform(count, -18, 1, clean) / 20)
    tail = tail / tail.square().sum(-1, keepdim=True).sqrt() * loud
    answer = gain * (1 + torch.fft.rfft(tail, size) * curve(count, bins, clean, (0.0, 1.0), 4.0))
    return torch.fft.irfft(torch.fft.rfft(clean, size) * answer, size)[:, : clean.shape[-1]]


def worn(clean: Sounds, bank: Bank) -> Sounds:
    """Clips as a microphone takes them.

    Args:
        clean: speech at -24 dBFS where somebody speaks, shape (clips, samples).
        bank: where the noise is from.
    """
    count = len(clean)
    some = lambda share: torch.rand(count, 1, device=clean.device) < share  # noqa: E731
    sounds = transferred(clean)
    voice = torch.where(sounds.abs() > 1e-3, sounds, 0.0)
    spoken = (
        (voice.square().sum(-1, keepdim=True) / (voice != 0).sum(-1, keepdim=True).clamp_min(1))
        .sqrt()
        .clamp_min(1e-4)
    )
    snr = -3.5 + 29 * torch.rand(count, 1, device=clean.device) ** 1.25
    snr = torch.where(some(0.14), torch.full_like(snr, 60.0), snr)
    sounds = sounds / spoken + bank.mixed(count, clean.shape[1]) * 10 ** (-snr / 20)
    sounds = sounds + torch.randn_like(sounds) * 10 ** (uniform(count, -70, -38, clean) / 20)
    sounds = sounds * 10 ** (uniform(count, -38, -14, clean) / 20)
    sounds = torch.where(some(0.05), (sounds * 6).clamp(-0.5, 0.5), sounds)
    return sounds.clamp(-1, 1)


def without_speech(count: int, length: int, bank: Bank) -> Sounds:
    """Noise of any loudness and nothing else; none of it is others speaking."""
    noise = bank.drawn(count, length, mute=True)
    floor = torch.randn_like(noise) * 10 ** (uniform(count, -75, -40, noise) / 20)
    return (noise * 10 ** (uniform(count, -55, -12, noise) / 20) + floor).clamp(-1, 1)
