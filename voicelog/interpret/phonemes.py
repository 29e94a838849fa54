"""Phonemes and what it costs to take one for another, or to lose one.

A phoneme is one character (``pronunciations.PHONEMES``); a consonant after the last vowel of its
word is another symbol than the same one before a vowel (:func:`coda`), since word ends are where
speech is swallowed. Costs are distances between features: for vowels places on the vowel chart of
the International Phonetic Alphabet (start and end of a diphthong), for consonants its table of
voicing, place and manner. The weights are our own, set by the measured confusions.

The costs with the empty symbol (a loss) are a metric by construction: a sum of distances between
features is one, and :func:`losses` and :func:`swaps` close it under detours over a loss.
"""

from __future__ import annotations

from functools import cache
from math import hypot

VOWELS = "AaeIiOoUuWXYER@"
CONSONANTS = "bCdDfghJklmnNprsStTvwyzZ"
_CODA = 128

_CHART: dict[str, tuple[float, float, float, float]] = {
    "I": (0.0, 0.0, 0.0, 0.0), "i": (0.2, 0.15, 0.2, 0.15), "e": (0.55, 0.1, 0.55, 0.1),
    "a": (0.8, 0.15, 0.8, 0.15), "A": (1.0, 0.85, 1.0, 0.85), "O": (0.7, 1.0, 0.7, 1.0),
    "@": (0.55, 0.5, 0.55, 0.5), "R": (0.5, 0.6, 0.5, 0.6), "u": (0.2, 0.8, 0.2, 0.8),
    "U": (0.0, 0.9, 0.0, 0.9), "E": (0.4, 0.05, 0.15, 0.1), "Y": (0.95, 0.4, 0.2, 0.15),
    "W": (0.95, 0.45, 0.2, 0.8), "X": (0.7, 1.0, 0.2, 0.15), "o": (0.45, 0.8, 0.2, 0.85),
}  # fmt: skip
"""Openness and backness, 0 to 1, where a vowel starts and where it ends."""

_TABLE: dict[str, tuple[bool, float, str]] = {
    "p": (False, 0, "stop"), "b": (True, 0, "stop"), "m": (True, 0, "nasal"),
    "w": (True, 0, "glide"), "f": (False, 0.5, "fricative"), "v": (True, 0.5, "fricative"),
    "T": (False, 1, "fricative"), "D": (True, 1, "fricative"), "t": (False, 1.5, "stop"),
    "d": (True, 1.5, "stop"), "s": (False, 1.5, "fricative"), "z": (True, 1.5, "fricative"),
    "n": (True, 1.5, "nasal"), "l": (True, 1.5, "lateral"), "r": (True, 2, "glide"),
    "S": (False, 2, "fricative"), "Z": (True, 2, "fricative"), "C": (False, 2, "affricate"),
    "J": (True, 2, "affricate"), "y": (True, 3, "glide"), "k": (False, 4, "stop"),
    "g": (True, 4, "stop"), "N": (True, 4, "nasal"), "h": (False, 5, "fricative"),
}  # fmt: skip
"""Voiced or not, place from the lips (0) back to the glottis (5), manner."""

_MANNERS = ("stop", "affricate", "fricative", "nasal", "lateral", "glide")
_BETWEEN_MANNERS = (
    (0.0, 0.13, 0.25, 0.30, 0.40, 0.45),
    (0.13, 0.0, 0.13, 0.40, 0.45, 0.45),
    (0.25, 0.13, 0.0, 0.40, 0.35, 0.30),
    (0.30, 0.40, 0.40, 0.0, 0.30, 0.35),
    (0.40, 0.45, 0.35, 0.30, 0.0, 0.12),
    (0.45, 0.45, 0.30, 0.35, 0.12, 0.0),
)
_OTHER = 0.1
"""Cost of not being the same consonant at all."""
_VOICING = 0.15
_PLACE = 0.12
_FARTHEST_PLACE = 0.25
_AT_WORD_END = 0.2
"""Cost between a consonant at a word's end and the same one elsewhere."""
_VOWEL = 0.08
_CHART_SCALE = 0.45
_OTHER_KIND = 1.0
"""Cost of a vowel for a consonant."""

_LOST_VOWEL = {"@": 0.3, "i": 0.4, "R": 0.4, "u": 0.45}
_LOST = {"h": 0.3, "y": 0.4, "r": 0.5, "w": 0.6, "l": 0.6, "t": 0.6, "d": 0.6, "s": 0.65, "z": 0.65}
_LOST_AT_END = {
    "r": 0.15, "t": 0.4, "d": 0.4, "s": 0.45, "z": 0.45, "l": 0.45, "n": 0.5, "m": 0.5, "N": 0.5,
}  # fmt: skip
"""A final /r/ is no sound at all in most of Britain; stops and plurals go next."""


def coda(consonant: str) -> str:
    """The symbol for a consonant after the last vowel of its word."""
    return chr(ord(consonant) + _CODA)


PHONEMES = VOWELS + CONSONANTS
CODAS = "".join(map(coda, CONSONANTS))
SYMBOLS = PHONEMES + CODAS


def _between(one: str, other: str) -> float:
    """Distance between two phonemes by their features, before any detour over a loss."""
    if one == other:
        return 0.0
    if (one in VOWELS) != (other in VOWELS):
        return _OTHER_KIND
    return _between_vowels(one, other) if one in VOWELS else _between_consonants(one, other)


def _between_vowels(one: str, other: str) -> float:
    a, b = _CHART[one], _CHART[other]
    apart = 0.65 * hypot(a[0] - b[0], a[1] - b[1]) + 0.35 * hypot(a[2] - b[2], a[3] - b[3])
    return _VOWEL + _CHART_SCALE * apart


def _between_consonants(one: str, other: str) -> float:
    (voiced, place, manner), (voiced_too, place_too, manner_too) = _TABLE[one], _TABLE[other]
    voicing = _VOICING if voiced != voiced_too else 0.0
    places = min(_FARTHEST_PLACE, _PLACE * abs(place - place_too))
    manners = _BETWEEN_MANNERS[_MANNERS.index(manner)][_MANNERS.index(manner_too)]
    return _OTHER + voicing + places + manners


def _loss(symbol: str) -> float:
    if symbol in VOWELS:
        return _LOST_VOWEL.get(symbol, 0.6)
    if ord(symbol) < _CODA:
        return _LOST.get(symbol, 0.75)
    plain = chr(ord(symbol) - _CODA)
    return min(_LOST_AT_END.get(plain, 0.55), _LOST.get(plain, 0.75))


@cache
def _features() -> dict[str, dict[str, float]]:
    """Distances of all symbols by their features: those of the phonemes, and where one of two
    consonants stands at a word's end, that on top.
    """
    table = {}
    for one in PHONEMES:
        plain = {other: _between(one, other) for other in PHONEMES}
        kind = 0.0 if one in VOWELS else _AT_WORD_END
        table[one] = plain | {coda(other): plain[other] + kind for other in CONSONANTS}
    for one in CONSONANTS:
        plain = table[one]
        row = {other: plain[other] + (other not in VOWELS) * _AT_WORD_END for other in PHONEMES}
        table[coda(one)] = row | {coda(other): plain[other] for other in CONSONANTS}
    return table


@cache
def losses() -> dict[str, float]:
    """What it costs to lose each symbol: never more than changing it first into another one."""
    return {
        one: min(apart + _loss(other) for other, apart in row.items())
        for one, row in _features().items()
    }


@cache
def swaps() -> dict[str, dict[str, float]]:
    """What it costs to take each symbol for each: never more than losing one, adding the other."""
    lost = losses()
    return {
        one: {other: min(apart, lost[one] + lost[other]) for other, apart in row.items()}
        for one, row in _features().items()
    }
