"""The number of an odometer as it is said: as one number, digit by digit, or in groups."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from voicelog.interpret.numbers import number_at
from voicelog.interpret.spelling import spell

_MOST_DIGITS = 7
"""Of a reading said in groups; more is a telephone number."""
THOUSANDS = "k"
"""Behind a number below one thousand: "131 k"."""


@dataclass(frozen=True, slots=True)
class Mileage:
    """A number found among words.

    Args:
        value: in the unit that follows it.
        end: index after its last word.
        thousands: it ended in a ``k`` that stood for thousand.
    """

    value: float
    end: int
    thousands: bool = False


def reading_at(words: Sequence[str], at: int) -> Mileage | None:
    """The reading that starts exactly there; None where none does.

    "Eighty two thousand four hundred" and "82,400" are one number; "one three one four five two" is
    said digit by digit, "one thirty one four fifty two" and "eighty two four hundred" in groups that
    stand side by side (common practice, no source).
    """
    one = _number(words, at)
    more = _side_by_side(words, at)
    if one is None or (more is not None and more.end > one.end):
        return more
    if one.value < 1000 and words[one.end : one.end + 1] == [THOUSANDS]:
        return Mileage(one.value * 1000, one.end + 1, thousands=True)
    return one


def _number(words: Sequence[str], at: int) -> Mileage | None:
    found = number_at(words, at)
    return None if found is None or found.fraction else Mileage(float(found.value), found.end)


def _side_by_side(words: Sequence[str], at: int) -> Mileage | None:
    """Digits and groups put side by side; None where they are no whole number together."""
    digits, end = "", at
    while (group := _group(words, end)) is not None:
        digits, end = digits + group[0], group[1]
    fits = 0 < len(digits) <= _MOST_DIGITS
    return Mileage(float(digits), end) if fits else None


def _group(words: Sequence[str], at: int) -> tuple[str, int] | None:
    """The digits of the next group, a single one or a whole number, and the index after it."""
    found = number_at(words, at)
    whole = found is not None and not found.fraction and not found.decimal
    groups = [(str(int(found.value)), found.end)] if found is not None and whole else []
    for length in (1, 2):  # "oh", "double four"
        spelled = spell(words[at : at + length])
        if spelled.text.isdecimal() and spelled.end == length:
            groups.append((spelled.text, at + length))
    return max(groups, key=lambda group: group[1], default=None)
