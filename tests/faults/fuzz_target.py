"""One thing that is fed random input: what it is fed, and what must hold whatever that is."""

from __future__ import annotations

import random
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from pathlib import Path

Mutate = Callable[[bytes, int, random.Random], bytes]
"""Makes another input of one: the bytes, how many it may have, what to draw from."""


@dataclass(frozen=True, slots=True)
class Target:
    """What is fuzzed.

    Args:
        what: the part of the program, in words.
        run: takes one input. A VoicelogError is an answer and anything else that it raises a finding;
            what it checks itself, it raises as AssertionError.
        seeds: inputs to begin with.
        mutate: makes inputs that get further than random bytes; None leaves that to the fuzzer.
        words: byte strings that the format is made of.
        longest: bytes of an input.
        patience_s: seconds of processor time after which an input counts as one that takes too long.
        growth_mb: what one input may add to the memory of the process.
    """

    what: str
    run: Callable[[bytes], None]
    seeds: Callable[[], Iterable[bytes]]
    mutate: Mutate | None = None
    words: tuple[bytes, ...] = ()
    longest: int = 16_384
    patience_s: float = 10.0
    growth_mb: int = 256


def memory() -> str | None:
    """A folder that lies in memory, where the system has one: it is written to for every input."""
    return "/dev/shm" if Path("/dev/shm").is_dir() else None  # noqa: S108
