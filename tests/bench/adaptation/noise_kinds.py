"""The kinds of noise that the training speech is laid over.

Every parameter is drawn anew for every clip. None imitates the kept-out noises of the speech set: no
tone that sags under load, no hiss that swells at random.
"""

from __future__ import annotations

import math
from collections.abc import Callable

import torch
from sounds import RATE, Sounds, convolved, even, shaped, uniform


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


def tune(count: int, length: int, like: Sounds, others: Sounds) -> Sounds:
    """Plucked notes on a beat, three at once: a radio's music between its words."""
    time = torch.arange(length, device=like.device)[None] / RATE
    beat, base = uniform(count, 0.22, 0.8, like), uniform(count, 110, 330, like)
    slot = (time / beat).long()
    fading = torch.exp(-uniform(count, 1.5, 7, like) * (time - slot * beat))
    sound = torch.zeros(count, length, device=like.device)
    for _ in range(3):
        steps = torch.randint(25, (count, int(slot.max()) + 1), device=like.device).float()
        hertz = base * 2 ** (steps.gather(1, slot) / 12)
        for partial in range(1, 6):
            sound += torch.sin(2 * math.pi * partial * hertz * time) / partial
    return even(sound * fading)


KINDS: tuple[Callable[[int, int, Sounds, Sounds], Sounds], ...] = (
    coloured,
    hum,
    impacts,
    chopped,
    babble,
    squeal,
    tune,
)
SHARES = (0.25, 0.21, 0.16, 0.19, 0.09, 0.05, 0.05)
"""How often each kind is made."""
