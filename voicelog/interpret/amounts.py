"""One amount as said: a number with its unit, a share, a gauge, a coin; no hedge and no range.

These functions work on words whose hyphens are already undone (see ``pull_apart``).
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from voicelog.interpret.coins import COIN_OPENS, LOOSE, coin_at
from voicelog.interpret.numbers import NUMBER_OPENS, Number, numbers_at, part_at
from voicelog.interpret.numerals import word_at
from voicelog.interpret.units import INCH_MM, Unit, gauge_mm, unit_at, unit_words

_ARTICLES = ("a", "an")
_LOOSELY = ("ish", "odd")
_INCH_PARTS = (8, 16, 32, 64)
"""A fraction in these without a unit is of an inch: nobody halves millimetres four times."""
_DEEP = ("deep", "thick", "wide", "across", "long")
_SMALLER = {"foot": ("inch",), "m": ("cm", "mm"), "cm": ("mm",)}
_GALVANISED = ("galvanised", "galvanized", "galv")
_WHOLE = ("it", "this", "that", "its", "the")
_SURFACES = (
    "panel",
    "surface",
    "area",
    "coating",
    "paint",
    "metal",
    "thing",
    "lot",
    "whole",
    "skin",
)
_THICKNESSES = ("thickness", "wall", "section", "gauge", "original")
_NO_SURFACES = (
    "size",
    "depth",
    "time",
    "way",
    "length",
    "width",
    "height",
    "distance",
    "diameter",
    "of",
)
_FACTORS = {"half": Fraction(1, 2), "twice": Fraction(2), "double": Fraction(2)}
_GAUGE = ("gauge", "gage")
AMOUNT_OPENS = (
    NUMBER_OPENS | COIN_OPENS | {*_GALVANISED, *_GAUGE, *_FACTORS, *unit_words("inch", "foot")}
)
"""Words an amount can begin with, besides figures."""


@dataclass(frozen=True, slots=True)
class Amount:
    """A number and what it counts.

    Args:
        number: as said.
        end: index after its last word.
        quantity: ``length``, ``percent``, ``area``, ``gauge`` or ``number``.
        unit: the unit's name; empty for a bare number.
        unit_mm: millimetres in that unit; None where it is not a length.
        total: in mm, percent or plain, exactly.
        fraction: the number was said with a denominator.
        loose: a hedge stood between the number and its unit ("ten or so mil").
    """

    number: Fraction
    end: int
    quantity: str
    unit: str
    unit_mm: Fraction | None
    total: Fraction
    fraction: bool = False
    loose: bool = False


def amount_at(words: Sequence[str], at: int, *, mil: str) -> Amount | None:
    """The longest amount that starts exactly at ``at``, or None."""
    best: Amount | None = None
    for found in _all(words, at, mil):
        if best is None or found.end > best.end:
            best = found
    if best is None or word_at(words, best.end) == "o'clock":
        return None
    return best


def in_unit_of(bare: Amount, other: Amount) -> Amount:
    """A bare number in the unit of the amount beside it ("ten to fifteen mil")."""
    total = bare.number
    if other.quantity == "gauge":
        total = gauge_mm(int(bare.number)) or bare.number
    elif other.unit_mm is not None:
        total = bare.number * other.unit_mm
    return replace(
        bare, quantity=other.quantity, unit=other.unit, unit_mm=other.unit_mm, total=total
    )


def _all(words: Sequence[str], at: int, mil: str) -> Iterator[Amount]:
    """Every amount at that word; of two with the same end the first counts."""
    yield from _coins(words, at)
    yield from _shares(words, at)
    yield from _gauges(words, at)
    for number in _numbers(words, at, mil):
        yield from _lengths(words, number, mil)
    yield from _bare_unit(words, at, mil)
    for number in numbers_at(words, at):
        yield _bare(number)


def _bare(number: Number) -> Amount:
    """A number without a unit; in parts of an inch, a length."""
    if number.fraction and number.denominator in _INCH_PARTS:
        return _length(number, Unit("inch", INCH_MM, number.end), loose=False)
    return Amount(number.value, number.end, "number", "", None, number.value, number.fraction)


def _length(number: Number, unit: Unit, *, loose: bool) -> Amount:
    """The number of that unit; percent is a unit too."""
    mm = unit.mm
    total = number.value if mm is None else number.value * mm
    quantity = unit.name if mm is None else "length"
    return Amount(number.value, unit.end, quantity, unit.name, mm, total, number.fraction, loose)


def _numbers(words: Sequence[str], at: int, mil: str) -> Iterator[Number]:
    """Numbers that a unit may follow, "an" and "quarter" among them."""
    yield from numbers_at(words, at)
    if word_at(words, at) in _ARTICLES:
        yield Number(Fraction(1), at + 1)
    part = part_at(words, at)
    if part is not None:
        yield part
    yield from _hundred_unsaid(words, at, mil)


def _hundred_unsaid(words: Sequence[str], at: int, mil: str) -> Iterator[Number]:
    """Hundreds unsaid: "one twenty thou", "one oh five thou"; elsewhere a count comes first."""
    for number in _as_hundreds(words, at):
        unit = unit_at(words, number.end, mil=mil)
        if unit is not None and unit.name == "thou":
            yield number


def _as_hundreds(words: Sequence[str], at: int) -> Iterator[Number]:
    """A digit and two more said after it, "oh" for a nought."""
    for first in numbers_at(words, at):
        nought = word_at(words, first.end) in ("oh", "o")
        low, high = (1, 9) if nought else (10, 99)
        for second in numbers_at(words, first.end + nought):
            whole = not (first.fraction or second.fraction or first.decimal or second.decimal)
            if whole and 1 <= first.value <= 9 and low <= second.value <= high:
                yield Number(100 * first.value + second.value, second.end)


def _lengths(words: Sequence[str], number: Number, mil: str) -> Iterator[Amount]:
    """That number with a unit, and with what may still be added to it."""
    at, loose = _past_loose(words, number.end)
    if number.fraction or (number.decimal and number.value < 1):
        at += word_at(words, at) == "of"
        at += word_at(words, at) in _ARTICLES
    unit = unit_at(words, at, mil=mil)
    if unit is None or unit.name == "gauge" or _is_a_letter(words, at):
        return
    amount = _length(number, unit, loose=loose)
    yield amount
    yield from _and_a_half(words, amount)
    yield from _and_smaller(words, amount, mil)


def _is_a_letter(words: Sequence[str], at: int) -> bool:
    """Whether "m" there follows an article: a letter of the alphabet, or half of "a m"."""
    return word_at(words, at) == "m" and word_at(words, at - 1) in _ARTICLES


def _past_loose(words: Sequence[str], at: int) -> tuple[int, bool]:
    """Past "ish", "odd" or "or so" between a number and its unit."""
    if word_at(words, at) in _LOOSELY:
        return at + 1, True
    return (at + 2, True) if tuple(words[at : at + 2]) == ("or", "so") else (at, False)


def _and_a_half(words: Sequence[str], amount: Amount) -> Iterator[Amount]:
    """More of the same unit: "an inch and a half", "two inches and three eighths"."""
    if word_at(words, amount.end) != "and" or amount.unit_mm is None or amount.fraction:
        return
    for part in numbers_at(words, amount.end + 1):
        if part.fraction and part.value < 1 and word_at(words, part.end) != "dozen":
            number = amount.number + part.value
            total = number * amount.unit_mm
            yield replace(amount, number=number, total=total, end=part.end, fraction=True)


def _and_smaller(words: Sequence[str], amount: Amount, mil: str) -> Iterator[Amount]:
    """More in a smaller unit: "five foot two inches"; the number stays in the larger one."""
    smaller = _SMALLER.get(amount.unit)
    if smaller is None or amount.unit_mm is None:
        return
    at = amount.end + (word_at(words, amount.end) == "and")
    for number in _numbers(words, at, mil):
        for more in _lengths(words, number, mil):
            if more.unit in smaller and more.total < amount.unit_mm:
                total = amount.total + more.total
                yield replace(amount, number=total / amount.unit_mm, total=total, end=more.end)


def _bare_unit(words: Sequence[str], at: int, mil: str) -> Iterator[Amount]:
    """A unit whose article was swallowed: "inch and a half"."""
    part = part_at(words, at)
    if part is not None and part.denominator in _INCH_PARTS and word_at(words, part.end) in _DEEP:
        yield _bare(part)  # "a sixteenth deep", its article swallowed
    unit = unit_at(words, at, mil=mil)
    if unit is not None and unit.name in ("inch", "foot"):
        yield from _and_a_half(words, _length(Number(Fraction(1), unit.end), unit, loose=False))


def _gauges(words: Sequence[str], at: int) -> Iterator[Amount]:
    """Sheet: "sixteen gauge", "gauge sixteen", "galvanised eighteen gauge"."""
    galvanised = word_at(words, at) in _GALVANISED
    at += galvanised
    if word_at(words, at) in _GAUGE:
        for number in numbers_at(words, at + 1):
            yield from _gauge(words, number, number.end, galvanised)
    for number in numbers_at(words, at):
        unit = unit_at(words, number.end)
        if unit is not None and unit.name == "gauge":
            yield from _gauge(words, number, unit.end, galvanised)


def _gauge(words: Sequence[str], number: Number, end: int, galvanised: bool) -> Iterator[Amount]:
    galvanised_after = word_at(words, end) in _GALVANISED
    if number.value.denominator == 1:
        mm = gauge_mm(int(number.value), galvanised=galvanised or galvanised_after)
        if mm is not None:
            yield Amount(number.value, end + galvanised_after, "gauge", "gauge", None, mm)


def _coins(words: Sequence[str], at: int) -> Iterator[Amount]:
    """Comparisons: "the size of a quarter", "twice the size of a dime"."""
    factor = _FACTORS.get(word_at(words, at))
    begin = at if factor is None else at + 1
    coin = coin_at(words, begin)
    if coin is not None:
        times, mm = factor or Fraction(1), Fraction(str(coin.mm))
        loose = word_at(words, begin) in LOOSE
        yield Amount(times, coin.end, "length", "coin", mm, times * mm, loose=loose)


def _shares(words: Sequence[str], at: int) -> Iterator[Amount]:
    """Parts of a surface: "a third of it", "half the panel", "ten percent of the surface"."""
    part = part_at(words, at)
    for number in (*numbers_at(words, at), *([part] if part is not None else [])):
        if number.fraction and 0 < number.value <= 1:
            percent = replace(_bare(number), unit="percent", unit_mm=None, total=100 * number.value)
            yield from _of_it(words, percent, must_say_of=number.value != Fraction(1, 2))
        for amount in _lengths(words, number, mil=""):
            if amount.unit == "percent":
                yield from _of_it(words, amount, must_say_of=True)


def _of_it(words: Sequence[str], share: Amount, *, must_say_of: bool) -> Iterator[Amount]:
    """The share when it is one of a surface (area) or of a thickness (percent)."""
    said_of = word_at(words, share.end) == "of"
    at = share.end + said_of
    whole, noun = word_at(words, at), word_at(words, at + 1)
    if whole not in _WHOLE or (must_say_of and not said_of):
        return
    if noun in _THICKNESSES:
        yield replace(share, quantity="percent", end=at + 1)
    elif whole == "it" and said_of:
        yield replace(share, quantity="area", end=at + 1)
    elif _is_surface(noun) or (said_of and whole in ("this", "that")):
        yield replace(share, quantity="area", end=at + 1 + (noun in _SURFACES))


def _is_surface(noun: str) -> bool:
    """Not "half the bolts" nor "half the size"; places are left for the map to know."""
    plural = noun.endswith("s") and not noun.endswith("ss") and noun != "chassis"
    return bool(noun) and noun not in _NO_SURFACES and not plural
