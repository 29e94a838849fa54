"""How much of the held-out sentences a model spells wrong, quiet and in noise, while it trains."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import numpy as np
import torch
from bank import Bank
from training_speech import DEVICE, END, START, Speech

Held = list[tuple[str, list[Any], list[list[int]]]]
"""Name of a condition, its clips in batches of one length, and the tokens of every clip."""


@torch.no_grad()
def spelled(model: Any, sounds: Any, most: int) -> list[list[int]]:
    """The tokens that greedy decoding gives for clips of one length."""
    with torch.autocast(DEVICE, torch.bfloat16):
        hidden = model.model.encoder(sounds).last_hidden_state
        said = torch.full((len(sounds), 1), START, device=DEVICE)
        for _ in range(most):
            last = model.model.decoder(
                input_ids=said, encoder_hidden_states=hidden, use_cache=False
            ).last_hidden_state
            said = torch.cat([said, model.proj_out(last[:, -1:]).argmax(-1)], 1)
            if bool((said == END).any(1).all()):
                break
    rows = said[:, 1:].tolist()
    return [row[: row.index(END)] if END in row else row for row in rows]


def wrong(pairs: list[tuple[list[int], list[int]]]) -> float:
    """Share of wrong tokens."""
    faults = 0
    for said, heard in pairs:
        row = list(range(len(heard) + 1))
        for i, token in enumerate(said, 1):
            before, row[0] = row[0], i
            for j, other in enumerate(heard, 1):
                before, row[j] = row[j], min(row[j] + 1, row[j - 1] + 1, before + (token != other))
        faults += row[-1]
    return faults / sum(len(said) for said, _ in pairs)


def check(model: Any, held: Held) -> str:
    """Wrong tokens by condition."""
    model.eval()
    told = []
    for name, clips, texts in held:
        heard = [said for sounds in clips for said in spelled(model, sounds, 60)]
        told.append(f"{name} {100 * wrong(list(zip(texts, heard, strict=True))):.1f}")
    model.train()
    return ", ".join(told)


def held_out(speech: Speech, bank: Bank) -> Held:
    """Sentences that are not trained on, at three loudnesses of noise, in batches of about one length."""
    torch.manual_seed(5)
    order = speech.held_out[np.argsort(speech.lengths[speech.held_out], kind="stable")]
    batches = [order[at : at + 30] for at in range(0, len(order), 30)]
    kept = []
    for name, snr in (("quiet", 60.0), ("10 dB", 10.0), ("0 dB", 0.0)):
        clips = []
        for chosen in batches:
            clean = speech.clips(chosen, torch.ones(len(chosen), 1, device=DEVICE), (0.7, 0.7001))
            clips.append(clean + bank.mixed(*clean.shape) * 10 ** ((-24 - snr) / 20))
        texts = [
            row[row >= 0].tolist()[1:-1] for chosen in batches for row in speech.labels(chosen)
        ]
        kept.append((name, clips, texts))
    return kept


def recorded(file: Path) -> Held:
    """Recordings of people to watch, never trained on: as they are, and 10 dB over hiss.

    Args:
        file: arrays ``sound<n>`` (samples at 16 kHz) and ``text<n>`` (tokens).
    """
    real = np.load(file)
    names = sorted(name for name in real.files if name.startswith("sound"))
    clips = [torch.from_numpy(real[name]).to(DEVICE)[None].float() for name in names]
    texts = [real[name.replace("sound", "text")].tolist() for name in names]
    hissing = [c + 0.316 * c.square().mean().sqrt() * torch.randn_like(c) for c in clips]
    return [("real", clips, texts), ("real 10 dB", hissing, texts)]
