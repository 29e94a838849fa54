"""Numbers and lengths as people say them, each with the exact value that was said."""

from __future__ import annotations

import random
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction

INCH_MM = 25.4
THOU_MM = 0.0254
COINS_MM = {"quarter": 24.26, "dime": 17.91, "nickel": 21.21, "penny": 19.05}
"""Coin diameters as the corpus README gives them, from the mint."""

_ONES = [
    "zero", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven",
    "twelve", "thirteen", "fourteen", "fifteen", "sixteen", "seventeen", "eighteen", "nineteen",
]  # fmt: skip
_TENS = ["", "ten", "twenty", "thirty", "forty", "fifty", "sixty", "seventy", "eighty", "ninety"]
_PARTS = {4: "quarter", 8: "eighth", 16: "sixteenth"}


@dataclass(frozen=True)
class Said:
    """Words and the value in them, in the slot's unit (millimetres or percent)."""

    words: str
    value: float


@dataclass(frozen=True)
class Units:
    """How a person says lengths.

    Args:
        system: ``metric`` or ``inch``.
        bare: metric lengths are said without their unit.
        names: unit names of the part, by ``mm`` and ``cm``.
    """

    system: str
    bare: bool
    names: Mapping[str, Sequence[str]]


def in_words(number: int) -> str:
    """A whole number from 0 to 999 in words.

    Raises:
        ValueError: the number lies outside.
    """
    if not 0 <= number <= 999:
        raise ValueError(f"{number} is not from 0 to 999")
    if number < 20:
        return _ONES[number]
    if number < 100:
        tens, ones = divmod(number, 10)
        return _TENS[tens] + (f" {_ONES[ones]}" if ones else "")
    hundreds, rest = divmod(number, 100)
    return f"{_ONES[hundreds]} hundred" + (f" and {in_words(rest)}" if rest else "")


def decimal_in_words(tenths: int) -> str:
    """A number given in tenths: 19 is "one point nine", 20 is "two"."""
    whole, tenth = divmod(tenths, 10)
    return in_words(whole) + (f" point {_ONES[tenth]}" if tenth else "")


def fraction_in_words(part: Fraction) -> str:
    """A fraction below one: "three quarters", "half", "five sixteenths"."""
    if part == Fraction(1, 2):
        return "half"
    many = "s" if part.numerator > 1 else ""
    return f"{_ONES[part.numerator]} {_PARTS[part.denominator]}{many}"


def inches_in_words(inches: Fraction) -> str:
    """Inches with their unit: "half an inch", "two and a quarter inches", "three eighths"."""
    whole, part = divmod(inches, 1)
    if not whole:
        return fraction_in_words(part) + ("" if part.denominator > 4 else _of_an_inch(part))
    if not part:
        return "one inch" if whole == 1 else f"{in_words(whole)} inches"
    tail = fraction_in_words(part)
    tail = f"a {tail.removeprefix('one ')}" if part.numerator == 1 else tail
    return f"{in_words(whole)} and {tail} inches"


def _of_an_inch(part: Fraction) -> str:
    return " an inch" if part == Fraction(1, 2) else " of an inch"


def say_length(rng: random.Random, rough_mm: float, units: Units, *, whole: bool = False) -> Said:
    """A length near the rough one, in the person's own units.

    Args:
        rng: the source of chance.
        rough_mm: how long it is about.
        units: the person's habit.
        whole: always with the unit, even where the person leaves it out.
    """
    if units.system == "inch":
        inches = _sayable(rough_mm)
        return Said(inches_in_words(inches), float(inches) * INCH_MM)
    value = max(1, round(rough_mm)) if rough_mm < 20 else 5 * round(rough_mm / 5)
    if units.bare and not whole:
        return Said(in_words(value), float(value))
    if not units.bare and value >= 20 and value % 10 == 0 and rng.random() < 0.25:
        return Said(f"{in_words(value // 10)} {rng.choice(units.names['cm'])}", float(value))
    unit = rng.choice(units.names["mm"])
    return Said(f"{in_words(value)} {unit.removesuffix('s') if value == 1 else unit}", float(value))


def say_length_before(rng: random.Random, rough_mm: float, units: Units) -> Said:
    """A length said before its noun: "fifteen millimetre", "three quarter inch"."""
    if units.system == "inch":
        inches = Fraction(rng.choice((1, 2, 3)), 4) if rough_mm < 25 else Fraction(2)
        words = inches_in_words(inches).replace(" an inch", " inch").replace(" of inch", " inch")
        return Said(words.replace("quarters", "quarter").replace("inches", "inch"), _mm(inches))
    value = max(2, round(rough_mm))
    return Said(f"{in_words(value)} {rng.choice(units.names['mm']).removesuffix('s')}", value)


def say_range(rng: random.Random, rough_mm: float, units: Units) -> Said:
    """A range, whose larger end counts: "ten to fifteen millimetres"."""
    if units.system == "inch":
        top = max(2, round(rough_mm / INCH_MM))
        return Said(f"{in_words(top - 1)} to {in_words(top)} inches", top * INCH_MM)
    top = max(10, 5 * round(rough_mm / 5))
    return Said(f"{in_words(top - 5)} to {in_words(top)} {rng.choice(units.names['mm'])}", top)


def say_thin(rng: random.Random, rough_mm: float, units: Units) -> Said:
    """A thickness or a depth: tenths of a millimetre, or thou for people of inches."""
    if units.system == "inch":
        thou = max(5, 5 * round(rough_mm / THOU_MM / 5))
        return Said(f"{in_words(thou)} thou", round(thou * THOU_MM, 4))
    tenths = max(1, round(rough_mm * 10))
    unit = "" if units.bare else f" {rng.choice(units.names['mm'])}"
    unit = unit.removesuffix("s") if tenths == 10 else unit
    return Said(decimal_in_words(tenths) + unit, tenths / 10)


def _mm(inches: Fraction) -> float:
    return float(inches) * INCH_MM


def _sayable(rough_mm: float) -> Fraction:
    """The inches that somebody would say for it: sixteenths when small, else quarters."""
    step = 16 if rough_mm < 8 else 8 if rough_mm < 18 else 4
    step = 1 if rough_mm > 80 else step
    return max(Fraction(1, step), Fraction(round(rough_mm / INCH_MM * step), step))
