"""Vehicle identification numbers: their check digit, and what a wrong one was probably meant to be."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import permutations

VIN_LENGTH = 17
_CHECK_AT = 8
_SERIAL_AT = 13
"""The last four characters are digits (ISO 3779)."""
_FORBIDDEN = "IOQ"
_LETTER_VALUES = dict(
    zip("ABCDEFGHJKLMNPRSTUVWXYZ", map(int, "12345678123457923456789"), strict=True)
)
"""49 CFR 565.15(c), Table III."""
_WEIGHTS = (8, 7, 6, 5, 4, 3, 2, 10, 0, 9, 8, 7, 6, 5, 4, 3, 2)
"""49 CFR 565.15(c), Table IV."""

_TAKEN_FOR = str.maketrans("IOQ", "100")
_ALIKE = (
    "MN", "FSX", "59", "BDEPT3", "8AH", "AJK", "CGVZ", "UW", "5S", "8B", "2Z", "0D", "6G", "VY",
)  # fmt: skip
"""Characters taken for one another, the likeliest first: names that sound alike, then shapes that
look alike on a worn plate (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class Vin:
    """A vehicle identification number and what its check digit says.

    Args:
        text: in upper case.
        valid: 17 allowed characters whose check digit fits.
        expected: the check digit they should have; empty when there is none to compute.
        problem: why it is not valid, in plain words; empty when it is. Outside North America a
            check digit is not required, so that one that does not fit is a warning there.
    """

    text: str
    valid: bool
    expected: str = ""
    problem: str = ""


def vin_check(vin: str) -> Vin:
    """The number checked by 49 CFR 565.15(c): weighted sum of its characters modulo 11."""
    text = vin.upper().strip()
    problem = _malformed(text)
    if problem:
        return Vin(text, valid=False, problem=problem)
    expected = _check_digit(text)
    found = text[_CHECK_AT]
    if found != expected:
        problem = f"position 9 is {found}, the other characters ask for {expected}"
    return Vin(text, valid=not problem, expected=expected, problem=problem)


def likely_vins(vin: str, most: int = 4) -> tuple[str, ...]:
    """Numbers whose check digit fits and that differ in one confusable character, likeliest first.

    Args:
        vin: one that does not check. I, O and Q, which no number holds, count as 1, 0 and 0.
        most: how many to give at most.
    """
    heard = vin.upper().strip()
    text = heard.translate(_TAKEN_FOR)
    near = dict.fromkeys((text, *_one_off(text)))
    fitting = [other for other in near if other != heard and vin_check(other).valid]
    return tuple(fitting[:most])


def _one_off(text: str) -> Iterator[str]:
    for group in _ALIKE:
        for found, meant in permutations(group, 2):
            for at, character in enumerate(text):
                if character == found and _may_stand(meant, at):
                    yield text[:at] + meant + text[at + 1 :]


def _may_stand(character: str, at: int) -> bool:
    """The check digit is a digit or X, the end of the serial number digits only."""
    if at == _CHECK_AT:
        return character in "0123456789X"
    return at < _SERIAL_AT or character.isdecimal()


def _malformed(text: str) -> str:
    """Why the text can be no identification number at all; empty when it can."""
    for position, character in enumerate(text, start=1):
        if character in _FORBIDDEN:
            return f"position {position} is {character}: I, O and Q are not used"
        if character not in _LETTER_VALUES and character not in "0123456789":
            return f"position {position} is {character!r}: only letters and digits are used"
    if len(text) != VIN_LENGTH:
        return f"{len(text)} characters instead of {VIN_LENGTH}"
    return ""


def _check_digit(text: str) -> str:
    """Remainder of the weighted sum by 11, ten written X."""
    values = (_LETTER_VALUES[c] if c in _LETTER_VALUES else int(c) for c in text)
    remainder = sum(w * v for w, v in zip(_WEIGHTS, values, strict=True)) % 11
    return "X" if remainder == 10 else str(remainder)
