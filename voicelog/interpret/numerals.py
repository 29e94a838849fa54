"""The words numbers are made of, and words taken apart at their hyphens."""

from __future__ import annotations

from collections.abc import Sequence

_SMALL = (
    "zero one two three four five six seven eight nine ten eleven twelve thirteen fourteen "
    "fifteen sixteen seventeen eighteen nineteen"
)
_TENS = "twenty thirty forty fifty sixty seventy eighty ninety"
_SMALL_ORDINALS = "first second third fourth fifth sixth seventh eighth ninth"
_WORDS = {word: value for value, word in enumerate(_SMALL.split())}
UNITS = {word: value for word, value in _WORDS.items() if 0 < value < 10} | {"niner": 9}
TEENS = {word: value for word, value in _WORDS.items() if value >= 10}
TENS = {word: 10 * value for value, word in enumerate(_TENS.split(), start=2)} | {"fourty": 40}
SCALES = {"thousand": 10**3, "million": 10**6, "billion": 10**9}
ZEROS = {"zero": 0, "nought": 0, "naught": 0}
SPOKEN_ZEROS = ("oh", "o")
"""Zero only beside a point: elsewhere they are an exclamation and a letter."""
POINTS = ("point", "decimal", "comma")

ORDINALS = (
    {word: value for value, word in enumerate(_SMALL_ORDINALS.split(), start=1)}
    | {f"{word}th": value for word, value in TEENS.items() if word != "twelve"}
    | {"twelfth": 12}
    | {f"{word[:-1]}ieth": value for word, value in TENS.items()}
    | {"hundredth": 100, "thousandth": 1000}
)
PARTS = {word: value for word, value in ORDINALS.items() if 3 <= value <= 20 or value == 100} | {
    "half": 2,
    "quarter": 4,
}
"""What the denominator of a fraction is called; "thirty second" and "sixty fourth" are two words,
and thousandths are a unit of their own."""
PLURAL_PARTS = (
    {f"{word}s": value for word, value in PARTS.items()}
    | {"halves": 2}
    | {"eights": 8, "sixteens": 16}  # as they are often heard
)
LONG_PARTS = {("thirty", "second"): 32, ("sixty", "fourth"): 64}


def pull_apart(
    tokens: Sequence[str], start: int, window: int = 32
) -> tuple[list[str], list[int | None]]:
    """The words from ``start`` on with hyphens undone.

    Returns:
        The words, and for each the index after its token, None where its token goes on.
    """
    words: list[str] = []
    ends: list[int | None] = []
    for index in range(max(start, 0), min(len(tokens), start + window)):
        pieces = _pieces(tokens[index])
        words += pieces
        ends += [None] * (len(pieces) - 1) + [index + 1]
    return words, ends


def _pieces(token: str) -> list[str]:
    """The words of one token: hyphens undone, "twentyish" into its two halves."""
    if token.isalpha() and not token.endswith("ish"):
        return [token]
    stem = token.removesuffix("ish")
    if stem != token and any(stem in table for table in (UNITS, TEENS, TENS)):
        return [stem, "ish"]
    return [piece for piece in token.split("-") if piece] or [token]


def word_at(words: Sequence[str], at: int) -> str:
    """The word there; the empty string outside."""
    return words[at] if 0 <= at < len(words) else ""
