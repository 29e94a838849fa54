"""Phrases in words that a model knows: what stands for those that it does not, and the way back.

A model of this kind has a closed list of words and can never write another. A compound is said as
its parts ("crossmember", "cross member"), a figure as its word; where nothing stands for a word,
its phrases are left out, and other phrases of the same meaning have to do.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence, Set
from dataclasses import dataclass, replace
from itertools import pairwise

from voicelog.domain.heard import Hypothesis, Word

Knows = Callable[[str], bool]
"""Whether the model has the word."""

SHORTEST_PART, SHORTEST_END = 3, 4
"""Letters; shorter parts of a compound are words by accident ("bra-zed", "the-res")."""

_ENDING = re.compile(r"[a-z]?(?:ing|ed|ly|ling)")
"""What looks like a word at the end of one, and is none ("oval-ling", "crate-ring")."""

NUMBER_WORDS = (
    "zero", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven",
    "twelve", "thirteen", "fourteen", "fifteen", "sixteen", "seventeen", "eighteen", "nineteen",
    "twenty",
)  # fmt: skip
"""English figures as they are spoken; phrases of the vocabulary hold no greater ones."""


@dataclass(frozen=True, slots=True)
class Respelt:
    """A vocabulary in words that the model knows.

    Args:
        phrases: those that can be said so, each once.
        instead: each word that the model does not know to what is said for it.
        unknown: words that nothing stands for, each once, in order.
        joins: two words that are written as one of the vocabulary's.
    """

    phrases: tuple[str, ...]
    instead: Mapping[str, str]
    unknown: tuple[str, ...]
    joins: Mapping[tuple[str, str], str]

    def spelt_back(self, hypothesis: Hypothesis) -> Hypothesis:
        """The hypothesis as the vocabulary writes it."""
        words = tuple(_joined(hypothesis.words, self.joins))
        if len(words) == len(hypothesis.words):
            return hypothesis
        return replace(hypothesis, words=words, text=" ".join(word.text for word in words))


ANY_SPELLING = Respelt((), {}, (), {})
"""Of an ear that spells words in pieces and can write all of them."""


def respell(phrases: Iterable[str], knows: Knows) -> Respelt:
    """The phrases in words that the model knows."""
    split = [phrase.lower().split() for phrase in phrases]
    own = frozenset(word for words in split for word in words)
    spoken = {word: _spoken(word, knows, own) for words in split for word in words}
    instead = {word: said for word, said in spoken.items() if said and said != word}
    beside = {pair for words in split for pair in pairwise(words)}
    joins = {tuple(said.split()): word for word, said in instead.items() if word.isalpha()}
    return Respelt(
        tuple(
            dict.fromkeys(_said(words, spoken) for words in split if all(map(spoken.get, words)))
        ),
        instead,
        tuple(word for word, said in spoken.items() if not said),
        {(pair[0], pair[1]): word for pair, word in joins.items() if pair not in beside},
    )


def _said(words: Sequence[str], spoken: Mapping[str, str]) -> str:
    return " ".join(spoken[word] for word in words)


def _spoken(word: str, knows: Knows, own: Set[str]) -> str:
    """What is said for the word; empty where nothing is."""
    return next((said for said in _forms(word, own) if all(map(knows, said.split()))), "")


def _forms(word: str, own: Set[str]) -> Iterator[str]:
    """Ways to say it, the nearest first; ``own`` holds the vocabulary's words."""
    yield word
    bare = word.strip(".,")
    if bare != word and bare:
        yield bare
    if bare.isdecimal() and int(bare) < len(NUMBER_WORDS):
        yield NUMBER_WORDS[int(bare)]
    if len(parts := bare.replace("-", " ").split()) > 1:
        yield " ".join(parts)
    yield from _halves(bare, own)


def _halves(word: str, own: Set[str]) -> Iterator[str]:
    """The word as two, one of which at least the vocabulary has by itself.

    Both of its own come first, then those that are cut most evenly.
    """
    cuts = [(word[:at], word[at:]) for at in range(SHORTEST_PART, len(word) - SHORTEST_END + 1)]
    found = [cut for cut in cuts if not own.isdisjoint(cut) and not _ENDING.fullmatch(cut[1])]
    for first, second in sorted(
        found, key=lambda cut: (-len(own & set(cut)), abs(len(cut[0]) - len(cut[1])))
    ):
        yield f"{first} {second}"


def _joined(words: Sequence[Word], joins: Mapping[tuple[str, str], str]) -> Iterator[Word]:
    at = 0
    while at < len(words):
        first, second = words[at], words[min(at + 1, len(words) - 1)]
        whole = joins.get((first.text, second.text)) if at + 1 < len(words) else None
        yield first if whole is None else _one(first, second, whole)
        at += 1 if whole is None else 2


def _one(first: Word, second: Word, text: str) -> Word:
    """Two words as one, as sure as the less sure of them."""
    confidences = [c for c in (first.confidence, second.confidence) if c is not None]
    return Word(text, min(confidences, default=None), first.start_s, second.end_s)
