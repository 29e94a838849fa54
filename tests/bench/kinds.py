"""Counting which kind of phrase follows which, for the built-in ear's context."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from itertools import pairwise
from math import log

from voicelog.domain.reading import Vocabulary
from voicelog.recognise.context import CARRIED, KINDS, START, kind_of

LONGEST = 6
"""Words of the longest phrase looked for."""
FURTHEST = 2.0
"""Nats either way that a pair is worth at most."""
DRAWN = 20.0
"""Cases of the average that each kind's own are mixed with."""


def counted(
    said: Iterable[tuple[Sequence[str], float]], vocabulary: Vocabulary
) -> dict[str, dict[str, float]]:
    """How much likelier each kind is after each other than anywhere, in nats.

    Args:
        said: the utterances of inspections, in order, and what each inspection counts.
        vocabulary: what is known.
    """
    kinds = _by_words(vocabulary)
    pairs: Counter[tuple[str, str]] = Counter()
    for say, weight in said:
        for number, text in enumerate(say):
            row = [CARRIED if number else START, *_row(words(text), kinds)]
            for pair in pairwise(row):
                pairs[pair] += weight  # type: ignore[assignment]
    return {before: _after(before, pairs) for before in (START, CARRIED, *KINDS)}


def words(text: str) -> list[str]:
    """The words of a text as they are compared."""
    return re.findall(r"[a-z0-9]+(?:'[a-z]+)*", text.lower().replace("\N{RIGHT SINGLE QUOTATION MARK}", "'"))  # fmt: skip


def _by_words(vocabulary: Vocabulary) -> dict[tuple[str, ...], str]:
    every = (*vocabulary.phrases, *vocabulary.numerals)
    return {tuple(words(p.text)): kind_of(p.slot) for p in reversed(every) if not p.misheard}


def _row(said: Sequence[str], kinds: Mapping[tuple[str, ...], str]) -> list[str]:
    """The kinds of an utterance, longest phrases first; what has none is passed over."""
    found, at = [], 0
    while at < len(said):
        sizes = range(min(LONGEST, len(said) - at), 0, -1)
        size = next((n for n in sizes if tuple(said[at : at + n]) in kinds), 1)
        found.append(kinds.get(tuple(said[at : at + size]), ""))
        at += size
    return [kind for kind in found if kind]


def _after(before: str, pairs: Mapping[tuple[str, str], float]) -> dict[str, float]:
    whole, mine = sum(pairs.values()), sum(n for (one, _), n in pairs.items() if one == before)
    nats = {}
    for now in KINDS:
        share = sum(n for (_, other), n in pairs.items() if other == now) / whole
        if share:
            drawn = (pairs.get((before, now), 0.0) + DRAWN * share) / (mine + DRAWN)
            nats[now] = round(max(-FURTHEST, min(FURTHEST, log(drawn / share))), 2)
    return nats
