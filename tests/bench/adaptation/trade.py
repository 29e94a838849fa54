"""Sentences made of the shipped grammar's own phrases, of numbers, and of orders to the tool."""

from __future__ import annotations

import random
import re
from collections.abc import Callable, Iterator

from measures import COINS, ONES, decimal, size, thousands, whole


def phrases(rng: random.Random) -> Iterator[str]:
    """The grammar's phrases put together, so that each is heard in some company."""
    by_slot = _by_slot()
    zones, conditions = by_slot["zone"], by_slot["condition"]
    sides, faces = by_slot["side"] + by_slot["kerb"], by_slot["face"] + by_slot["end"]
    rest = [
        text
        for slot, every in by_slot.items()
        if slot not in ("zone", "condition")
        for text in every
    ]
    plans: list[Callable[[], tuple[str, ...]]] = [
        lambda: (_joined(rng, rng.choice(sides), rng.choice(zones)), rng.choice(conditions)),
        lambda: (rng.choice(zones), rng.choice(conditions), rng.choice(by_slot["probe"])),
        lambda: (rng.choice(conditions), _joined(rng, rng.choice(faces), rng.choice(zones))),
        lambda: (rng.choice(zones), rng.choice(rest)),
        lambda: (rng.choice(rest), rng.choice(rest)),
        lambda: (rng.choice(zones), rng.choice(conditions), size(rng)),
        lambda: (rng.choice(zones), rng.choice(by_slot["clear"]), rng.choice(by_slot["method"])),
        lambda: (rng.choice(rest),),
    ]  # fmt: skip
    while True:
        yield rng.choice((", ", ", ", " ")).join(rng.choice(plans)())


def numbers(rng: random.Random) -> Iterator[str]:
    """Measures with little around them."""
    zones = _by_slot()["zone"]
    plans: list[Callable[[], str]] = [
        lambda: size(rng),
        lambda: f"{rng.choice(zones)}, {size(rng)}",
        lambda: f"reads {decimal(rng)}, should be {decimal(rng)}",
        lambda: f"{decimal(rng)} left out of {rng.choice((decimal(rng), rng.choice(ONES)))}",
        lambda: f"hole {size(rng)} by {size(rng)}",
        lambda: f"number {rng.choice(ONES)}, {size(rng)}",
        lambda: f"about the size of {rng.choice(COINS)}",
        lambda: f"{whole(rng)} percent",
        lambda: f"odometer reads {thousands(rng)}",
        lambda: " ".join(rng.choice([*ONES, "zero"]) for _ in range(rng.randint(3, 7))),
    ]
    while True:
        yield rng.choice(plans)()


def orders(rng: random.Random) -> Iterator[str]:
    """Control words and short answers, alone or before something else."""
    by_slot = _by_slot()
    acts = by_slot["act"] + by_slot["repair"] + by_slot["attention"]
    short = [
        "yes",
        "no",
        "left",
        "right",
        "both",
        "left side",
        "right side",
        *acts,
        *by_slot["side"],
    ]
    while True:
        first = rng.choice(short)
        yield first if rng.random() < 0.6 else f"{first}, {rng.choice(by_slot['zone'])}"


def _by_slot() -> dict[str, list[str]]:
    from voicelog.config.grammar import load_grammar

    found: dict[str, list[str]] = {}
    for phrase in load_grammar().vocabulary.phrases:
        if not phrase.misheard and re.fullmatch(r"[a-z' -]+", phrase.text):
            found.setdefault(phrase.slot, []).append(phrase.text)
    return found


def _joined(rng: random.Random, one: str, other: str) -> str:
    return f"{one} {other}" if rng.random() < 0.6 else f"{other} {one}"
