"""What the training speech meets on its way to the microphone, for a whole batch at once."""

from __future__ import annotations

import torch
from bank import Bank
from noise_kinds import tune
from sounds import RATE, Sounds, curve, even, some, uniform


def transferred(clean: Sounds) -> Sounds:
    """Through a room, a microphone and a line of its own each, or through some of them only."""
    count, tail_length = len(clean), int(0.8 * RATE)
    size = 131_072 if clean.shape[-1] + tail_length <= 131_072 else 262_144
    bins = size // 2 + 1
    hertz = torch.linspace(1, RATE / 2, bins, device=clean.device)[None]
    gain = curve(count, bins, clean, (-1.0, 1.2), 6.0) ** some(count, 0.6, clean).float()
    low, high = uniform(count, 1, 250, clean), uniform(count, 3300, 8000, clean)
    gain = (
        gain
        * ((1 + (low / hertz) ** 4).rsqrt() ** some(count, 0.4, clean).float())
        * ((1 + (hertz / high) ** 8).rsqrt() ** some(count, 0.15, clean).float())
    )
    time = torch.arange(tail_length, device=clean.device)[None] / RATE
    decay = torch.exp(-6.91 * time / uniform(count, 0.08, 0.85, clean)) * (
        time > uniform(count, 0.001, 0.02, clean)
    )
    tail = torch.randn(count, tail_length, device=clean.device) * decay
    loud = some(count, 0.5, clean).float() * 10 ** (uniform(count, -18, 1, clean) / 20)
    tail = tail / tail.square().sum(-1, keepdim=True).sqrt() * loud
    answer = gain * (1 + torch.fft.rfft(tail, size) * curve(count, bins, clean, (0.0, 1.0), 4.0))
    return torch.fft.irfft(torch.fft.rfft(clean, size) * answer, size)[:, : clean.shape[-1]]


def by_radio(clean: Sounds, here: Sounds) -> Sounds:
    """Those clips as a small loudspeaker plays them, over its own music.

    Args:
        clean: speech, shape (clips, samples).
        here: truths, shape (clips,).
    """
    if not here.any():
        return clean
    said = clean[here]
    loud = uniform(len(said), -26, -8, said)
    sounds = said + 0.063 * 10 ** (loud / 20) * even(tune(*said.shape, said, said))
    spectrum = torch.fft.rfft(sounds)
    hertz = torch.linspace(0, RATE / 2, spectrum.shape[-1], device=said.device)[None]
    low, high = uniform(len(said), 200, 420, said), uniform(len(said), 2700, 4200, said)
    kept = torch.fft.irfft(spectrum * ((hertz > low) & (hertz < high)), said.shape[-1])
    return clean.masked_scatter(here[:, None], kept)


def worn(clean: Sounds, bank: Bank) -> tuple[Sounds, Sounds]:
    """Clips as a microphone takes them, and by how many dB each stands over its noise.

    Args:
        clean: speech at -24 dBFS where somebody speaks, shape (clips, samples).
        bank: where the noise is from.
    """
    count = len(clean)
    sounds = transferred(clean)
    voice = torch.where(sounds.abs() > 1e-3, sounds, 0.0)
    spoken = (
        (voice.square().sum(-1, keepdim=True) / (voice != 0).sum(-1, keepdim=True).clamp_min(1))
        .sqrt()
        .clamp_min(1e-4)
    )
    snr = -3.5 + 29 * torch.rand(count, 1, device=clean.device) ** 1.25
    snr = torch.where(some(count, 0.14, clean), torch.full_like(snr, 60.0), snr)
    sounds = sounds / spoken + bank.mixed(count, clean.shape[1]) * 10 ** (-snr / 20)
    sounds = sounds + torch.randn_like(sounds) * 10 ** (uniform(count, -70, -38, clean) / 20)
    sounds = sounds * 10 ** (uniform(count, -38, -14, clean) / 20)
    sounds = torch.where(some(count, 0.05, clean), (sounds * 6).clamp(-0.5, 0.5), sounds)
    return sounds.clamp(-1, 1), snr


def without_speech(count: int, length: int, bank: Bank) -> Sounds:
    """Noise of any loudness and nothing else; none of it is others speaking."""
    noise = bank.drawn(count, length, mute=True)
    floor = torch.randn_like(noise) * 10 ** (uniform(count, -75, -40, noise) / 20)
    return (noise * 10 ** (uniform(count, -55, -12, noise) / 20) + floor).clamp(-1, 1)
