"""Numbers as people say and write them: cardinals, decimals, vulgar fractions, ordinals.

Every function works on lower-case words without punctuation. Values are exact fractions, so that
three sixteenths of an inch is 4.7625 mm and not nearly that. A run of words that is not one number
("sixty fifteen", "five zero") ends where the first number in it ends.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import lru_cache
from math import gcd

from voicelog.interpret.cardinals import INTEGER, cardinals, small_numbers
from voicelog.interpret.numerals import (
    LONG_PARTS,
    ORDINALS,
    PARTS,
    PLURAL_PARTS,
    POINTS,
    SCALES,
    SPOKEN_ZEROS,
    TEENS,
    TENS,
    UNITS,
    ZEROS,
    pull_apart,
    word_at,
)

_DECIMAL = re.compile(r"(?:[0-9]{1,12}|[0-9]{1,3}(?:,[0-9]{3}){1,3})?\.[0-9]{1,12}")
_SLASHED = re.compile(r"([0-9]{1,6})/([1-9][0-9]{0,5})(?:th|ths|rd|rds|nd|nds)?")
_SUFFIXES = ("th", "ths", "rd", "rds", "nd", "nds")
"""Ordinal endings cut off from their digits: "3 16 ths"."""
_NUMBERED = re.compile(r"([0-9]{1,12})(?:st|nd|rd|th)(s?)")
_FIRST_WORDS = frozenset(
    [*ZEROS, *UNITS, *TEENS, *TENS, *SCALES, *SPOKEN_ZEROS, *POINTS]
    + [f"{scale}s" for scale in SCALES]
    + ["a", "an", "half", "couple", "dozen", "hundred", "hundreds"]
)
NUMBER_OPENS = _FIRST_WORDS | {*PARTS, *PLURAL_PARTS, *(first for first, _ in LONG_PARTS)}
"""Words a number or a denominator can begin with, besides figures."""


@dataclass(frozen=True, slots=True)
class Number:
    """A number found among words.

    Args:
        value: exactly.
        end: index after its last word.
        fraction: said with a denominator: three sixteenths, a half, 3/16, one and a half.
        decimal: said or written with a point.
        denominator: the one said, before any reducing; 1 where none was said.
    """

    value: Fraction
    end: int
    fraction: bool = False
    decimal: bool = False
    denominator: int = 1


def number_at(tokens: Sequence[str], start: int) -> Number | None:
    """The longest number that starts exactly at ``start``, or None when none does."""
    found = numbers_at(tokens, start)
    return found[0] if found else None


def numbers_at(tokens: Sequence[str], start: int) -> tuple[Number, ...]:
    """Every number that starts exactly at ``start``, longest first, one for each end."""
    return _numbers_at(tuple(tokens), start)


@lru_cache(maxsize=1_000)
def _numbers_at(tokens: tuple[str, ...], start: int) -> tuple[Number, ...]:
    """The same; an amount asks for the numbers at one word half a dozen times."""
    if not _can_begin(word_at(tokens, start)):
        return ()
    words, ends = pull_apart(tokens, start)
    best: dict[int, Number] = {}
    for number in _all(words):
        end = ends[number.end - 1]
        if end is not None:
            best.setdefault(end, replace(number, end=end))
    return tuple(best[end] for end in sorted(best, reverse=True))


def ordinal_at(tokens: Sequence[str], start: int) -> Number | None:
    """The longest ordinal ("second", "twenty first", "2nd") that starts at ``start``, or None."""
    words, ends = pull_apart(tokens, start)
    found = [number for number in _ordinals(words) if ends[number.end - 1] is not None]
    if not found:
        return None
    longest = max(found, key=lambda number: number.end)
    return replace(longest, end=ends[longest.end - 1] or longest.end)


def part_at(tokens: Sequence[str], start: int) -> Number | None:
    """A denominator without "a" before it ("quarter" of "quarter inch") as one such part."""
    for denominator, end, plural in _parts(tokens, start):
        if not plural:
            return Number(Fraction(1, denominator), end, fraction=True, denominator=denominator)
    return None


def _can_begin(token: str) -> bool:
    """Whether looking on is worth the time: most words of an utterance are no numbers."""
    return token[:1].isdecimal() or token.partition("-")[0] in _FIRST_WORDS or token[:1] == "."


def _all(words: Sequence[str]) -> Iterator[Number]:
    """Every number at the first word; where two end alike, the likelier one first."""
    yield from _dozens(words)
    yield from _mixed(words)
    yield from _fractions(words, 0)
    yield from _decimals(words)
    for value, end in cardinals(words, 0):
        yield Number(Fraction(value), end)


def _parts(words: Sequence[str], at: int) -> Iterator[tuple[int, int, bool]]:
    """Denominators: value, end, and whether it was said in the plural."""
    word, pair = word_at(words, at), (word_at(words, at), word_at(words, at + 1).removesuffix("s"))
    if pair in LONG_PARTS:
        yield LONG_PARTS[pair], at + 2, words[at + 1].endswith("s")
    if word in PARTS:
        yield PARTS[word], at + 1, False
    if word in PLURAL_PARTS:
        yield PLURAL_PARTS[word], at + 1, True
    numbered = _NUMBERED.fullmatch(word)
    if numbered and int(numbered[1]) > 2:
        yield int(numbered[1]), at + 1, bool(numbered[2])
    cut_off = INTEGER.fullmatch(word) and word_at(words, at + 1) in _SUFFIXES
    if cut_off and word.isdecimal() and int(word) > 2:
        yield int(word), at + 2, word_at(words, at + 1).endswith("s")


def _fractions(words: Sequence[str], at: int) -> Iterator[Number]:
    """Vulgar fractions without a whole part."""
    slashed = _SLASHED.fullmatch(word_at(words, at))
    if slashed:
        suffixed = word_at(words, at + 1) in _SUFFIXES
        yield _fraction(int(slashed[1]), int(slashed[2]), at + 1 + suffixed)
    if word_at(words, at) == "half":
        yield _fraction(1, 2, at + 1)
    article = [(1, at + 1)] if word_at(words, at) in ("a", "an") else []
    for count, end in [*article, *small_numbers(words, at)]:
        for denominator, stop, plural in _parts(words, end):
            if count and (plural or _said_alike(count, denominator)):
                yield _fraction(count, denominator, stop)


def _said_alike(count: int, denominator: int) -> bool:
    """Whether a singular may stand for a plural: "three quarter inch", not "two quarter inch"."""
    return count < denominator and gcd(count, denominator) == 1


def _fraction(count: int, denominator: int, end: int) -> Number:
    return Number(Fraction(count, denominator), end, fraction=True, denominator=denominator)


def _mixed(words: Sequence[str]) -> Iterator[Number]:
    """A whole number and a fraction: "two and three eighths", "2 1/2"."""
    for whole, end in cardinals(words, 0):
        joined = word_at(words, end) == "and"
        if not joined and "/" not in word_at(words, end):
            continue
        for part in _fractions(words, end + 1 if joined else end):
            if part.value < 1:
                yield replace(part, value=whole + part.value)


def _decimals(words: Sequence[str]) -> Iterator[Number]:
    """Numbers with a point, said or written."""
    word = word_at(words, 0)
    if _DECIMAL.fullmatch(word):
        yield Number(Fraction(word.replace(",", "")), 1, decimal=True)
    said_zero = [(0, 1)] if word in SPOKEN_ZEROS else []
    for whole, end in [(0, 0), *said_zero, *cardinals(words, 0)]:
        if word_at(words, end) in POINTS:
            for digits, stop in _after_point(words, end + 1, idiom=whole == 0):
                yield Number(Fraction(f"{whole}.{digits}"), stop, decimal=True)


def _after_point(words: Sequence[str], at: int, *, idiom: bool) -> Iterator[tuple[str, int]]:
    """Digits after the point: one by one, or as a last pair ("point oh sixty two").

    A digit before another point begins the next number: "one point nine two point five".
    ``idiom`` lets a pair follow a digit other than zero, as wall thicknesses in inches are said:
    "point one twenty" is .120.
    """
    digits = ""
    while (digit := _digit(word_at(words, at))) and word_at(words, at + 1) not in POINTS:
        digits, at = digits + digit, at + 1
        yield digits, at
    if not digits.strip("0") or (idiom and len(digits) == 1):
        for pair, end in small_numbers(words, at):
            if 10 <= pair <= 99:
                yield f"{digits}{pair}", end


def _digit(word: str) -> str:
    """The digits a word adds after a point; the empty string when it adds none."""
    if word in SPOKEN_ZEROS or word in ZEROS:
        return "0"
    if word in UNITS:
        return str(UNITS[word])
    return word if INTEGER.fullmatch(word) and word.isdecimal() else ""


def _dozens(words: Sequence[str]) -> Iterator[Number]:
    """A couple, a dozen, two dozen, half a dozen; "of" goes with it."""
    skip = 1 if word_at(words, 0) == "a" else 0
    if word_at(words, skip) == "couple":
        yield Number(Fraction(2), _past_of(words, skip + 1))
    counts = [(Fraction(count), end) for count, end in small_numbers(words, 0)]
    if word_at(words, skip) == "half":
        article = 1 if word_at(words, skip + 1) == "a" else 0
        counts.append((Fraction(1, 2), skip + 1 + article))
    for count, end in [(Fraction(1), skip), *counts]:
        if count and word_at(words, end) == "dozen":
            yield Number(12 * count, _past_of(words, end + 1))


def _past_of(words: Sequence[str], at: int) -> int:
    return at + 1 if word_at(words, at) == "of" and at + 1 < len(words) else at


def _ordinals(words: Sequence[str]) -> Iterator[Number]:
    """Ordinals: a last word such as "first", alone or after a number it completes."""
    numbered = _NUMBERED.fullmatch(word_at(words, 0))
    if numbered and not numbered[2]:
        yield Number(Fraction(int(numbered[1])), 1)
    if word_at(words, 0) in ORDINALS:
        yield Number(Fraction(ORDINALS[words[0]]), 1)
    for count, end in cardinals(words, 0):
        at = end + 1 if word_at(words, end) == "and" else end
        last = ORDINALS.get(word_at(words, at), 0)
        if last and _completes(count, last):
            yield Number(Fraction(count + last), at + 1)


def _completes(count: int, last: int) -> bool:
    """Whether "count last" is one ordinal: twenty first, five hundred twelfth."""
    if count % 100:
        return count % 10 == 0 and count % 100 >= 20 and last < 10
    return count > 0 and last < 100
