"""How far apart two sounds are at least, told at a glance by what only one of them has.

Working out a distance takes a step for every two phonemes. Whatever way it finds, a phoneme that the
other sound lacks is taken for another one or lost, so what that costs at least can be added up
beforehand. A sound becomes a number whose bits are its phonemes, each with as many bits as that
cost has steps: the bits that only one of two numbers has are counted in no time.
"""

from __future__ import annotations

from collections import Counter
from functools import cache

from voicelog.interpret.phonemes import losses, swaps

STEP = 0.04
"""Cost that one bit stands for; the cheapest changes cost 0.13 to 0.24."""
_TIMES = 4
"""Times that a phoneme counts within one sound: more of them are rare, and the bound holds without."""


def profile(sound: str) -> int:
    """The sound as a number, for :func:`least_apart`."""
    runs = _runs()
    bits = 0
    for symbol, times in Counter(sound).items():
        bits |= runs[symbol][min(times, _TIMES)]
    return bits


def least_apart(one: int, other: int) -> float:
    """A distance that two sounds, given by their profiles, are not nearer than."""
    return STEP * max((one & ~other).bit_count(), (other & ~one).bit_count())


@cache
def _runs() -> dict[str, tuple[int, ...]]:
    """Bits of each phoneme that comes no time, once, twice and so on: the fewer within the more."""
    runs, begin = {}, 0
    for symbol, cost in _cheapest().items():
        length = int(cost / STEP)
        runs[symbol] = tuple(((1 << length * times) - 1) << begin for times in range(_TIMES + 1))
        begin += length * _TIMES
    return runs


def _cheapest() -> dict[str, float]:
    """The least that can happen to each phoneme, when it does not stay as it is."""
    swap = swaps()
    return {
        symbol: min(lost, *(cost for other, cost in swap[symbol].items() if other != symbol))
        for symbol, lost in losses().items()
    }
