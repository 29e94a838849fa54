"""How words sound: letter-to-sound rules and a distance between sounds.

Rules of English spelling in a coarse form (our own, after the regular correspondences that any
phonics primer lists): enough to find that "crossed number" is near "cross member". One character
stands for one sound; pairs that a recogniser mixes up (voiced and unvoiced, neighbouring places)
cost less than unrelated ones.
"""

from __future__ import annotations

import re
from functools import lru_cache

_RULES: tuple[tuple[str, str], ...] = (
    ("tch", "C"), ("sch", "sk"), ("igh", "Y"), ("eigh", "A"), ("ough", "o"), ("augh", "o"),
    ("tion", "Sn"), ("sion", "Zn"), ("ture", "Cr"), ("gue$", "g"), ("que$", "k"),
    ("^kn", "n"), ("^gn", "n"), ("^wr", "r"), ("^ps", "s"), ("mb$", "m"), ("^x", "z"),
    ("ch", "C"), ("sh", "S"), ("th", "T"), ("ph", "f"), ("wh", "w"), ("ck", "k"), ("gh", ""),
    ("ng", "N"), ("qu", "kw"), ("dge", "J"), ("ge", "J"), ("gi", "Ji"), ("ce", "s"), ("ci", "si"),
    ("cy", "si"), ("ee", "E"), ("ea", "E"), ("ie", "E"), ("ei", "E"), ("ai", "A"), ("ay", "A"),
    ("oa", "O"), ("ow", "W"), ("ou", "W"), ("oo", "U"), ("oi", "D"), ("oy", "D"), ("au", "o"),
    ("aw", "o"), ("ew", "U"), ("ue", "U"), ("x", "ks"), ("c", "k"), ("q", "k"), ("j", "J"),
    ("y$", "i"), ("^y", "y"), ("y", "i"),
)  # fmt: skip

_COMPILED = tuple((re.compile(pattern), sound) for pattern, sound in _RULES)
_VOWELS = frozenset("aeiouAEIOUYWD")
_NEAR: dict[frozenset[str], float] = {
    frozenset(pair): cost
    for pairs, cost in (
        (("pb", "td", "kg", "fv", "sz", "CJ", "SZ", "SC", "sS", "zZ"), 0.3),
        (("mn", "nN", "Tf", "Ts", "Td", "Tt", "vb", "pt", "tk", "dg", "wv", "lr", "wr"), 0.5),
    )
    for pair in pairs
}
_DROPPED = {"t": 0.5, "d": 0.5, "h": 0.3, "r": 0.5, "l": 0.7, "s": 0.6, "z": 0.6}


@lru_cache(maxsize=20_000)
def sounds(text: str) -> str:
    """The sounds of a phrase, words run together, doubled sounds single."""
    return re.sub(r"(.)\1+", r"\1", "".join(_word(word) for word in text.split()))


def _word(word: str) -> str:
    word = word.replace("'", "")
    long_e = len(word) > 2 and word.endswith("e") and word[-2] not in "aeiou"
    if long_e:
        vowel = word[-3]
        word = word[:-3] + vowel.upper() + word[-2] if vowel in "aiou" else word[:-1]
    word = word.replace("I", "Y")
    for pattern, sound in _COMPILED:
        word = pattern.sub(sound, word)
    return word


def _swap(one: str, other: str) -> float:
    if one == other:
        return 0.0
    if one in _VOWELS and other in _VOWELS:
        return 0.35
    return _NEAR.get(frozenset((one, other)), 1.0)


def _lost(sound: str) -> float:
    return 0.5 if sound in _VOWELS else _DROPPED.get(sound, 1.0)


@lru_cache(maxsize=50_000)
def alike(one: str, other: str) -> float:
    """How alike two sound strings are, 0 to 1: one minus the weighted edit distance, normalised
    by the length of the longer. Swaps and losses cost the same both ways, so it is symmetric.
    """
    if not one or not other:
        return 1.0 if one == other else 0.0
    previous = [0.0]
    for sound in other:
        previous.append(previous[-1] + _lost(sound))
    for a in one:
        current = [previous[0] + _lost(a)]
        for j, b in enumerate(other, start=1):
            current.append(
                min(previous[j] + _lost(a), current[-1] + _lost(b), previous[j - 1] + _swap(a, b))
            )
        previous = current
    return max(0.0, 1.0 - previous[-1] / max(len(one), len(other)))
