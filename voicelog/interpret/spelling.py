"""The radiotelephony spelling alphabet, and the check digit of a vehicle identification number."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

_LETTER_WORDS = (
    "alfa bravo charlie delta echo foxtrot golf hotel india juliett kilo lima mike november oscar "
    "papa quebec romeo sierra tango uniform victor whiskey xray yankee zulu"
)
"""ICAO Annex 10 Vol. II, 5.2.1.3; the same in the ITU Radio Regulations, Appendix 14."""
_DIGIT_WORDS = "zero one two three four five six seven eight nine"
_ITU_DIGIT_WORDS = (
    "nadazero unaone bissotwo terrathree kartefour pantafive soxisix setteseven oktoeight novenine"
)
_SPOKEN_DIGITS = {"tree": "3", "fower": "4", "fife": "5", "niner": "9", "oh": "0", "nought": "0"}
_VARIANTS = {"alpha": "A", "juliet": "J", "whisky": "W", "x-ray": "X", "oskar": "O", "viktor": "V"}

SPOKEN: Mapping[str, str] = (
    {word: word[0].upper() for word in _LETTER_WORDS.split()}
    | {letter: letter.upper() for letter in "abcdefghijklmnopqrstuvwxyz"}
    | {word: str(value) for value, word in enumerate(_DIGIT_WORDS.split())}
    | {word: str(value) for value, word in enumerate(_ITU_DIGIT_WORDS.split())}
    | _SPOKEN_DIGITS
    | _VARIANTS
)
"""One word to the character it stands for; "x ray" in two words is handled beside it."""


@dataclass(frozen=True, slots=True)
class Spelled:
    """What was spelled.

    Args:
        text: upper-case letters and digits; empty when the first word is neither.
        end: index after the last word that was part of it.
    """

    text: str
    end: int


def spell(tokens: Sequence[str], start: int = 0) -> Spelled:
    """The characters spelled from ``start`` on, up to the first word that stands for none.

    Digits written as such ("42") are taken one by one.
    """
    text, at = "", start
    while at < len(tokens):
        character, step = _character(tokens, at)
        if not step:
            break
        text, at = text + character, at + step
    return Spelled(text, at)


def _character(tokens: Sequence[str], at: int) -> tuple[str, int]:
    """What the word there stands for, and how many words that takes; 0 when it stands for none."""
    word = tokens[at]
    if word in ("x", "ex") and at + 1 < len(tokens) and tokens[at + 1] == "ray":
        return "X", 2
    if word.isdecimal() and word.isascii():
        return word, 1
    character = SPOKEN.get(word, "")
    return character, 1 if character else 0


VIN_LENGTH = 17
_CHECK_AT = 8
_FORBIDDEN = "IOQ"
_LETTER_VALUES = dict(
    zip("ABCDEFGHJKLMNPRSTUVWXYZ", map(int, "12345678123457923456789"), strict=True)
)
"""49 CFR 565.15(c), Table III."""
_WEIGHTS = (8, 7, 6, 5, 4, 3, 2, 10, 0, 9, 8, 7, 6, 5, 4, 3, 2)
"""49 CFR 565.15(c), Table IV."""


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
