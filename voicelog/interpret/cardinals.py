"""Whole numbers in words or figures, every place where one could end."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

from voicelog.interpret.numerals import SCALES, TEENS, TENS, UNITS, ZEROS, word_at

INTEGER = re.compile(r"[0-9]{1,12}|[0-9]{1,3}(?:,[0-9]{3}){1,3}")
"""Figures short enough to mean something."""


def small_numbers(words: Sequence[str], at: int) -> Iterator[tuple[int, int]]:
    """Numbers without a scale: 0 to 99 in words, or any whole number in digits."""
    word = word_at(words, at)
    if INTEGER.fullmatch(word):
        yield int(word.replace(",", "")), at + 1
    for table in (ZEROS, UNITS, TEENS, TENS):
        if word in table:
            yield table[word], at + 1
    if word in TENS and word_at(words, at + 1) in UNITS:
        yield TENS[word] + UNITS[words[at + 1]], at + 2


def _hundreds(words: Sequence[str], at: int, *, bare: bool) -> Iterator[tuple[int, int]]:
    """Numbers without thousand: 0 to 9999 ("forty five hundred thirty eight")."""
    counts = list(small_numbers(words, at))
    yield from counts
    for count, end in [*counts, *_one(words, at, bare=bare)]:
        if 0 < count < 100 and word_at(words, end) in ("hundred", "hundreds"):
            yield count * 100, end + 1
            rest = end + 2 if word_at(words, end + 1) == "and" else end + 1
            yield from (
                (count * 100 + more, stop)
                for more, stop in small_numbers(words, rest)
                if 0 < more < 100
            )


def _one(words: Sequence[str], at: int, *, bare: bool) -> Iterator[tuple[int, int]]:
    """The one that "a hundred" and a leading "hundred" leave unsaid."""
    if bare:
        yield 1, at
    if word_at(words, at) == "a":
        yield 1, at + 1


def cardinals(
    words: Sequence[str], at: int, below: int = 10**12, *, bare: bool = True
) -> Iterator[tuple[int, int]]:
    """Whole numbers, every place where one could end."""
    counts = list(_hundreds(words, at, bare=bare))
    yield from counts
    for count, end in [*counts, *_one(words, at, bare=bare)]:
        scale = SCALES.get(word_at(words, end).removesuffix("s"), below)
        if count == 0 or scale >= below:
            continue
        yield count * scale, end + 1
        rest = end + 2 if word_at(words, end + 1) == "and" else end + 1
        for more, stop in cardinals(words, rest, scale, bare=False):
            if 0 < more < scale:
                yield count * scale + more, stop
