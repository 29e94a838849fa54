"""A bank of noises on the GPU, made anew bit by bit while the training goes on."""

from __future__ import annotations

import torch
from noise_kinds import KINDS, SHARES, babble
from sounds import Sounds, even, uniform

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
