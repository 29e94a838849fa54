"""What one word, or a few, may be heard as: the kinds of slip, each with its data."""

from __future__ import annotations

import random
import tomllib
from collections.abc import Mapping
from functools import cache
from pathlib import Path

from rapidfuzz import process
from rapidfuzz.distance import Levenshtein
from spoken_numbers import in_words

Words = tuple[str, ...]

_HERE = Path(__file__).parent
_VOWELS = "aeiou"
_NEAR = 8
"""So many of the nearest words may come out for a word."""
SHORT = frozenset({
    "a", "an", "and", "at", "by", "for", "has", "he", "here", "i", "in", "is", "it", "it's", "no",
    "of", "on", "or", "so", "that", "the", "then", "there", "this", "to", "was", "we", "with",
})  # fmt: skip
"""Unstressed words that people swallow; "no" is among them, which costs a negation."""


@cache
def common_words() -> tuple[str, ...]:
    """Common English words, sorted, from ``common_words.txt``."""
    text = (_HERE / "common_words.txt").read_text(encoding="utf-8")
    return tuple(sorted(set(text.split())))


@cache
def confusions() -> Mapping[Words, Mapping[str, float]]:
    """Said words to what is heard, with weights: ``confusions.toml``, both tables."""
    tables = tomllib.loads((_HERE / "confusions.toml").read_text(encoding="utf-8"))
    return {
        tuple(said.split()): heard for table in tables.values() for said, heard in table.items()
    }


@cache
def _digits() -> Mapping[Words, str]:
    return {tuple(in_words(number).split()): str(number) for number in range(200)}


@cache
def near_words(word: str) -> tuple[tuple[str, float], ...]:
    """The common words nearest in letters, with a weight; nearer is likelier."""
    found = process.extract(
        word, common_words(), scorer=Levenshtein.normalized_similarity, limit=_NEAR + 1
    )
    return tuple((near, max(0.05, score) ** 4) for near, score, _ in found if near != word)


def table_slip(words: Words, at: int, rng: random.Random) -> tuple[int, Words] | None:
    """A slip from the table of confusions: how many words it takes, and what is heard.

    None where the table has nothing for the words at this place.
    """
    spans = [n for n in range(1, len(words) - at + 1) if words[at : at + n] in confusions()]
    if not spans:
        return None
    span = rng.choice(spans)
    heard = confusions()[words[at : at + span]]
    return span, tuple(rng.choices(list(heard), list(heard.values()))[0].split())


def digit_slip(words: Words, at: int) -> tuple[int, Words] | None:
    """A run of number words written in digits, the longest first; None where there is no number."""
    for span in range(len(words) - at, 0, -1):
        if words[at : at + span] in _digits():
            return span, (_digits()[words[at : at + span]],)
    return None


def general_slip(words: Words, at: int, rng: random.Random) -> tuple[int, Words]:
    """A slip as English in general makes it: a swallowed word, a near word, an ending, a boundary."""
    word = words[at]
    if word in SHORT:
        return 1, rng.choices([(), near(word, rng), (word, rng.choice(("a", "the")))], [5, 4, 1])[0]
    kinds = [near(word, rng), ending(word, rng), vowel(word, rng), split(word, rng), ()]
    heard = rng.choices(kinds, [56, 20, 10, 6, 8])[0]
    if rng.random() < 0.06 and at + 1 < len(words):
        return 2, near(word + words[at + 1], rng)
    return 1, heard


def near(word: str, rng: random.Random) -> Words:
    """Another common word with similar letters."""
    found = near_words(word)
    return (rng.choices([w for w, _ in found], [score for _, score in found])[0],)


def ending(word: str, rng: random.Random) -> Words:
    """The word with its last sound lost or a plural gained: "bolts" is heard as "bolt"."""
    for tail in ("ing", "ed", "s"):
        if word.endswith(tail) and len(word) > len(tail) + 2:
            return (word.removesuffix(tail),)
    shorter = word[:-1]
    if shorter in common_words() and rng.random() < 0.5:
        return (shorter,)
    return (f"{word}s",) if len(word) > 2 else near(word, rng)


def vowel(word: str, rng: random.Random) -> Words:
    """A common word that differs in one vowel: "rust" is heard as "rest"; else a near word."""
    shifted = {
        word[:i] + other + word[i + 1 :]
        for i, letter in enumerate(word)
        for other in _VOWELS
        if letter in _VOWELS and other != letter
    }
    known = sorted(shifted & set(common_words()))
    return (rng.choice(known),) if known else near(word, rng)


def split(word: str, rng: random.Random) -> Words:
    """Two words for one: the nearest common words to its halves."""
    if len(word) < 6:
        return near(word, rng)
    half = len(word) // 2
    return (*near(word[:half], rng), *near(word[half:], rng))
