"""Arithmetic on a whole batch of sounds at once: levels, random filters, convolution."""

from __future__ import annotations

from typing import Any

import torch

RATE = 16_000
Sounds = Any
"""A float tensor of shape (clips, samples)."""


def uniform(count: int, low: float, high: float, like: Sounds) -> Sounds:
    """One number a clip, shape (clips, 1)."""
    return torch.rand(count, 1, device=like.device) * (high - low) + low


def some(count: int, share: float, like: Sounds) -> Sounds:
    """So large a share of the clips, by chance: truths, shape (clips, 1)."""
    return torch.rand(count, 1, device=like.device) < share


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


def convolved(sounds: Sounds, answers: Sounds) -> Sounds:
    """Each sound through its own answer, as long as it was."""
    size = 1 << (sounds.shape[-1] + answers.shape[-1]).bit_length()
    return torch.fft.irfft(torch.fft.rfft(sounds, size) * torch.fft.rfft(answers, size), size)[
        :, : sounds.shape[-1]
    ]
