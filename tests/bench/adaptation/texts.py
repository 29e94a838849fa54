"""What the training speech says: trade sentences, shop talk and plain English.

Only the tuning side of the corpus is used, the grammar's own phrases, and the example sentences of
WordNet (Debian's ``wordnet-base``), which keep the model's ear for everything else.
"""

from __future__ import annotations

import json
import random
import re
import sys
from collections.abc import Callable, Iterator
from pathlib import Path

HERE = Path(__file__).resolve().parent
CORPUS = HERE.parents[1] / "corpus"
WORDNET = Path("/usr/share/wordnet")
sys.path.insert(0, str(CORPUS))

SHARES = {
    "people": 9000,
    "generated": 9000,
    "phrases": 6500,
    "numbers": 3000,
    "orders": 1500,
    "chatter": 1400,
    "english": 12600,
}
"""Texts of each kind; those of people and of chatter come several times, in other voices."""

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


def texts(seed: int) -> list[tuple[str, str]]:
    """Kind and text of every utterance, shuffled, the same for the same seed."""
    rng = random.Random(seed)
    made = [
        (kind, written(text))
        for kind, source in SOURCES.items()
        for _, text in zip(range(SHARES[kind]), source(rng), strict=False)
    ]
    rng.shuffle(made)
    return [(kind, text) for kind, text in made if 1 <= len(text.split()) <= 30]


def written(text: str) -> str:
    """A text as the model writes: a capital at its head, a full stop at its end."""
    text = re.sub(r"\s+", " ", text.strip().strip("\"'`;,")).replace(" - ", ", ")
    text = re.sub(r"\bi\b", "I", text)
    text = text[:1].upper() + text[1:]
    return text if text.endswith((".", "?", "!")) else text + "."


def over_and_over(rng: random.Random, every: list[str]) -> Iterator[str]:
    """All of them, shuffled, again and again."""
    while True:
        rng.shuffle(every)
        yield from every


def people(rng: random.Random) -> Iterator[str]:
    """Sentences that people wrote for the tuning part."""
    lines = [
        json.loads(line)
        for file in sorted(CORPUS.glob("tuning*.jsonl"))
        for line in file.read_text().splitlines()
        if line.strip()
    ]
    return over_and_over(rng, sorted({said for case in lines for said in case["say"]}))


def generated(rng: random.Random) -> Iterator[str]:
    """Sentences of the corpus's generator, its tuning wordings."""
    from generate import cases

    seed = rng.randrange(10**6)
    while True:
        seed += 1
        yield from (said for case in cases(seed, 500, "tuning") for said in case["say"])


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
        lambda: (rng.choice(zones), rng.choice(conditions), _size(rng)),
        lambda: (rng.choice(zones), rng.choice(by_slot["clear"]), rng.choice(by_slot["method"])),
        lambda: (rng.choice(rest),),
    ]  # fmt: skip
    while True:
        yield rng.choice((", ", ", ", " ")).join(rng.choice(plans)())


def numbers(rng: random.Random) -> Iterator[str]:
    """Measures with little around them."""
    zones = _by_slot()["zone"]
    plans: list[Callable[[], str]] = [
        lambda: _size(rng),
        lambda: f"{rng.choice(zones)}, {_size(rng)}",
        lambda: f"reads {_decimal(rng)}, should be {_decimal(rng)}",
        lambda: f"{_decimal(rng)} left out of {rng.choice((_decimal(rng), rng.choice(ONES)))}",
        lambda: f"hole {_size(rng)} by {_size(rng)}",
        lambda: f"number {rng.choice(ONES)}, {_size(rng)}",
        lambda: f"about the size of {rng.choice(COINS)}",
        lambda: f"{_whole(rng)} percent",
        lambda: f"odometer reads {_thousands(rng)}",
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


def chatter(rng: random.Random) -> Iterator[str]:
    """Shop talk that is no report."""
    lines = [
        line.strip()
        for file in sorted(CORPUS.glob("chatter-tuning*.txt"))
        for line in file.read_text().splitlines()
        if line.strip() and not line.startswith("#")
    ]
    return over_and_over(rng, sorted(set(lines)))


def english(rng: random.Random) -> Iterator[str]:
    """Example sentences of WordNet."""
    found = {
        example
        for part in ("verb", "adj", "noun", "adv")
        for line in (WORDNET / f"data.{part}").read_text().splitlines()
        for example in re.findall(r'"([^"]+)"', line.partition("|")[2])
    }
    plain = [text for text in sorted(found) if re.fullmatch(r"[A-Za-z' ,.;?!-]+", text)]
    return over_and_over(rng, [text for text in plain if 3 <= len(text.split()) <= 15])


SOURCES: dict[str, Callable[[random.Random], Iterator[str]]] = {
    "people": people, "generated": generated, "phrases": phrases, "numbers": numbers, "orders": orders,
    "chatter": chatter, "english": english,
}  # fmt: skip


def _by_slot() -> dict[str, list[str]]:
    from voicelog.config.grammar import load_grammar

    found: dict[str, list[str]] = {}
    for phrase in load_grammar().vocabulary.phrases:
        if not phrase.misheard and re.fullmatch(r"[a-z' -]+", phrase.text):
            found.setdefault(phrase.slot, []).append(phrase.text)
    return found


def _joined(rng: random.Random, one: str, other: str) -> str:
    return f"{one} {other}" if rng.random() < 0.6 else f"{other} {one}"


def _whole(rng: random.Random) -> str:
    kind = rng.random()
    if kind < 0.4:
        return rng.choice(ONES)
    if kind < 0.6:
        return rng.choice(TEENS)
    return rng.choice(TENS) if kind < 0.8 else f"{rng.choice(TENS)} {rng.choice(ONES)}"


def _decimal(rng: random.Random) -> str:
    digits = " ".join(rng.choice([*ONES, "zero"]) for _ in range(rng.choice((1, 1, 1, 2))))
    return f"{rng.choice([*ONES, *ONES, 'zero', ''])} point {digits}".strip()


def _size(rng: random.Random) -> str:
    kind = rng.random()
    if kind < 0.2:
        return rng.choice(PARTS)
    number = _decimal(rng) if kind < 0.5 else _whole(rng)
    return f"{number} {rng.choice(UNITS)}"


def _thousands(rng: random.Random) -> str:
    head = f"{_whole(rng)} thousand"
    return f"{head} {rng.choice(ONES)} hundred miles" if rng.random() < 0.5 else f"{head} miles"


if __name__ == "__main__":
    for kind, text in texts(int(sys.argv[1]) if len(sys.argv) > 1 else 1):
        print(f"{kind}\t{text}")
