"""The training speech on the GPU: sentences of about one length, each somewhere in a clip."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import numpy as np
import torch
from sounds import RATE, uniform

START, END = 1, 2
"""Tokens before and behind every text."""
DEVICE = "cuda" if torch.cuda.is_available() else "cpu"


class Speech:
    """All sentences on the GPU, growing as files come."""

    def __init__(self, folder: Path, tokens: Any, held_out: int) -> None:
        self.folder, self.files = folder, set[str]()
        self.flat, self.tokens = tokens["flat"], tokens["ends"]
        self.talk = tokens["talk"]
        self.sound = torch.zeros(0, dtype=torch.int16, device=DEVICE)
        self.starts = self.lengths = self.texts = np.zeros(0, np.int64)
        self.held_out = np.zeros(0, np.int64)
        self.take_in()
        self.held_out = np.linspace(0, len(self.lengths) - 1, held_out).astype(np.int64)

    def take_in(self) -> None:
        """Files that are new."""
        new = [file for file in sorted(self.folder.glob("*.npz")) if file.name not in self.files]
        for file in new:
            held = np.load(file)
            starts = len(self.sound) + np.concatenate([[0], np.cumsum(held["lengths"])[:-1]])
            self.sound = torch.cat([self.sound, torch.from_numpy(held["sound"]).to(DEVICE)])
            self.starts = np.concatenate([self.starts, starts])
            self.lengths = np.concatenate([self.lengths, held["lengths"]])
            self.texts = np.concatenate([self.texts, held["texts"]])
            self.files.add(file.name)
        jitter = np.random.uniform(0.95, 1.05, len(self.lengths))
        self.order = np.argsort(self.lengths * jitter)
        if new:
            print(
                f"{len(self.lengths)} sentences, {self.lengths.sum() / RATE / 3600:.1f} h",
                flush=True,
            )

    def labels(self, chosen: Any) -> Any:
        """Their tokens, start and end included, -100 behind them."""
        rows = [
            self.flat[self.tokens[t - 1] if t else 0 : self.tokens[t]] for t in self.texts[chosen]
        ]
        table = np.full((len(rows), max(map(len, rows)) + 2), -100)
        for row, said in zip(table, rows, strict=True):
            row[: len(said) + 2] = [START, *said, END]
        return torch.from_numpy(table).to(DEVICE)

    def clips(self, chosen: Any, rates: Any, spare_s: tuple[float, float]) -> Any:
        """Their sound, each somewhere in a clip, all clips of one length."""
        lengths = torch.from_numpy(self.lengths[chosen]).to(DEVICE)[:, None]
        starts = torch.from_numpy(self.starts[chosen]).to(DEVICE)[:, None]
        longest = int((lengths / rates).max()) + int(np.random.uniform(*spare_s) * RATE)
        slack = longest - lengths / rates
        at = (
            torch.arange(longest, device=DEVICE)[None]
            - slack * uniform(len(chosen), 0.15, 0.75, rates)
        ) * rates
        low = at.floor()
        inside = (low >= 0) & (low < lengths - 1)
        index = starts + low.clamp_min(0).minimum(lengths - 2.0).long()
        share = at - low
        sound = self.sound[index].float() * (1 - share) + self.sound[index + 1].float() * share
        return torch.where(inside, sound, 0.0) / 32768

    def batch(self, seconds: float) -> Any:
        """Numbers of sentences of about one length, none of those held out."""
        at = np.random.randint(len(self.order))
        length = self.lengths[self.order[at]] / RATE + 0.9
        count = int(np.clip(seconds / length, 16, 1024)) // 16 * 16
        at = min(at, max(0, len(self.order) - count))
        chosen = self.order[at : at + count]
        return chosen[~np.isin(chosen, self.held_out)]
