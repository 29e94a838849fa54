"""Numbers as people say them: sizes, readings, distances, and what they are told with."""

from __future__ import annotations

import random

ONES = ["one", "two", "three", "four", "five", "six", "seven", "eight", "nine"]
TEENS = [
    "ten",
    "eleven",
    "twelve",
    "thirteen",
    "fourteen",
    "fifteen",
    "sixteen",
    "seventeen",
    "eighteen",
    "nineteen",
]
TENS = ["twenty", "thirty", "forty", "fifty", "sixty", "seventy", "eighty", "ninety"]
UNITS = (
    "millimetres", "millimetres", "mil", "mil", "millimeters", "centimetres", "inches", "inch", "thou", "percent",
    "percent", "microns", "feet",
)  # fmt: skip
COINS = ("a dime", "a quarter", "a nickel", "a penny", "a pea", "a golf ball", "a fist", "a coin")
PARTS = (
    "half an inch", "a quarter inch", "three eighths", "five eighths of an inch", "an eighth", "three quarters of an inch",
    "an inch and a half", "two and a quarter inches", "a sixteenth", "seven sixteenths", "half a millimetre",
)  # fmt: skip


def whole(rng: random.Random) -> str:
    """A number from 1 to 99."""
    kind = rng.random()
    if kind < 0.4:
        return rng.choice(ONES)
    if kind < 0.6:
        return rng.choice(TEENS)
    return rng.choice(TENS) if kind < 0.8 else f"{rng.choice(TENS)} {rng.choice(ONES)}"


def decimal(rng: random.Random) -> str:
    """A number with one or two decimals, each digit spoken."""
    digits = " ".join(rng.choice([*ONES, "zero"]) for _ in range(rng.choice((1, 1, 1, 2))))
    return f"{rng.choice([*ONES, *ONES, 'zero', ''])} point {digits}".strip()


def size(rng: random.Random) -> str:
    """A length or a share; now and then in parts of an inch."""
    kind = rng.random()
    if kind < 0.2:
        return rng.choice(PARTS)
    number = decimal(rng) if kind < 0.5 else whole(rng)
    return f"{number} {rng.choice(UNITS)}"


def thousands(rng: random.Random) -> str:
    """A distance driven."""
    head = f"{whole(rng)} thousand"
    return f"{head} {rng.choice(ONES)} hundred miles" if rng.random() < 0.5 else f"{head} miles"
