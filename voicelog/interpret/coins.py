"""Sizes given by a coin."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from voicelog.interpret.numerals import pull_apart, word_at


@dataclass(frozen=True, slots=True)
class Coin:
    """A size given by a coin.

    Args:
        end: index after the phrase's last word.
        mm: the coin's diameter.
        name: the coin.
    """

    end: int
    mm: float
    name: str


COINS_MM: Mapping[str, float] = {
    # United States Mint, coin specifications.
    "penny": 19.05,
    "nickel": 21.21,
    "dime": 17.91,
    "quarter": 24.26,
    "half dollar": 30.61,
    "dollar": 26.49,
    # Royal Mint, from memory, unverified.
    "one pence": 20.3,
    "two pence": 25.9,
    "five pence": 18.0,
    "ten pence": 24.5,
    "twenty pence": 21.4,
    "fifty pence": 27.3,
    "pound": 23.43,
    "two pound": 28.4,
}
"""Diameters by the coin's name. "Penny" is the US cent; a British one is said "one p"."""

_ALSO_CALLED: Mapping[str, str] = {
    "cent": "penny",
    "one cent": "penny",
    "five cent": "nickel",
    "ten cent": "dime",
    "twenty five cent": "quarter",
    "fifty cent": "half dollar",
    "one dollar": "dollar",
    "one pound": "pound",
}
_FIGURES = {"one": "1", "two": "2", "five": "5", "ten": "10", "twenty": "20", "fifty": "50"}


def _every_name() -> dict[tuple[str, ...], str]:
    """What each coin is called, as words."""
    names = {name: name for name in COINS_MM} | dict(_ALSO_CALLED)
    names |= {
        n.replace("pence", short): coin for n, coin in names.items() for short in ("p", "pee")
    }
    for name, coin in list(names.items()):
        first, _, rest = name.partition(" ")
        if first in _FIGURES and rest:
            names[f"{_FIGURES[first]} {rest}"] = coin
            names[f"{_FIGURES[first]}{rest}"] = coin
    return {tuple(name.split()): coin for name, coin in names.items()}


_NAMES = _every_name()
_LONGEST = max(map(len, _NAMES))
_LIKE = tuple(
    tuple(phrase.split())
    for phrase in (
        "the size of",
        "size of",
        "the diameter of",
        "as big as",
        "big as",
        "as large as",
        "as wide as",
        "bigger than",
        "larger than",
        "smaller than",
        "no bigger than",
    )
)
LOOSE = ("bigger", "larger", "smaller", "no")
"""A comparison that begins so gives a bound rather than the size."""
_ARTICLES = ("a", "an", "one", "the")
COIN_OPENS = frozenset([words[0] for words in (*_NAMES, *_LIKE)]) | {*_ARTICLES}
"""Words a comparison with a coin can begin with, besides figures."""
_SIZED = ("size", "sized")
_NOT_A_COIN = ("panel", "panels", "inch", "inches", "of", "bill", "note", "dollar", "sheet")


def coin_at(tokens: Sequence[str], start: int) -> Coin | None:
    """A comparison with a coin that starts exactly at ``start``, or None.

    "The size of a quarter", "as big as a dime", "quarter sized". The name alone is no size: a
    quarter is also a fraction, and a quarter panel is sheet metal.
    """
    words, ends = pull_apart(tokens, start)
    for lead, compares in _leads(words):
        found = _name(words, lead)
        if found is None:
            continue
        name, at = found
        sized = word_at(words, at) in _SIZED
        at += sized
        end = ends[at - 1]
        if (compares or sized) and end is not None and word_at(words, at) not in _NOT_A_COIN:
            return Coin(end, COINS_MM[name], name)
    return None


def _leads(words: Sequence[str]) -> list[tuple[int, bool]]:
    """How many words come before the coin, and whether they compare ("size of a") or not ("a")."""
    compared = [len(like) for like in _LIKE if tuple(words[: len(like)]) == like]
    leads = [(at, True) for at in compared] + [(0, False)]
    return [
        (at + skip, compares)
        for at, compares in leads
        for skip in (0, 1)
        if not skip or word_at(words, at) in _ARTICLES
    ]


def _name(words: Sequence[str], at: int) -> tuple[str, int] | None:
    """The longest coin name there, "coin" or "piece" after it included."""
    for length in (_LONGEST, 2, 1):
        name = tuple(words[at : at + length])
        if name in _NAMES:
            end = at + len(name)
            return _NAMES[name], end + (word_at(words, end) in ("coin", "piece"))
    return None
