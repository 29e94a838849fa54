"""What the training speech says: trade sentences, shop talk, a radio and plain English.

``python texts.py [SEED]`` prints kind and text of each, parted by a tab. Only the tuning
side of the corpus is used, the grammar's own phrases, and the example sentences of WordNet (Debian's
``wordnet-base``), which keep the model's ear for everything else.
"""

from __future__ import annotations

import json
import random
import re
import sys
from collections.abc import Callable, Iterator
from pathlib import Path

from broadcast import broadcast
from trade import numbers, orders, phrases

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
    "chatter": 2800,
    "english": 12600,
    "talk": 4000,
    "broadcast": 6000,
}
"""Texts of each kind; those of people and of chatter come several times, in other voices."""


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
    """All of them, shuffled, again and again.

    Raises:
        SystemExit: there are none; what was looked for is not there.
    """
    if not every:
        raise SystemExit(f"Nothing to say: {CORPUS} and {WORDNET} must hold the texts")
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


def chatter(rng: random.Random) -> Iterator[str]:
    """Shop talk that is no report."""
    lines = [
        line.strip()
        for file in sorted(CORPUS.glob("chatter-tuning*.txt"))
        for line in file.read_text().splitlines()
        if line.strip() and not line.startswith("#")
    ]
    return over_and_over(rng, sorted(set(lines)))


def talk(rng: random.Random) -> Iterator[str]:
    """Two or three plain sentences in one breath, as long as what a radio says before it pauses."""
    plain = english(rng)
    while True:
        yield ", ".join(next(plain) for _ in range(rng.choice((2, 2, 3))))


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


NO_REPORTS = ("chatter", "english", "talk", "broadcast")
"""Kinds that say nothing about a vehicle at hand."""

SOURCES: dict[str, Callable[[random.Random], Iterator[str]]] = {
    "people": people, "generated": generated, "phrases": phrases, "numbers": numbers, "orders": orders,
    "chatter": chatter, "english": english, "talk": talk, "broadcast": broadcast,
}  # fmt: skip


if __name__ == "__main__":
    for kind, text in texts(int(sys.argv[1]) if len(sys.argv) > 1 else 1):
        print(f"{kind}\t{text}")
