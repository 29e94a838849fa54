"""Number words misheard as other words, put right where only a number can stand.

"Two point to", "one print four", "for inches", "to holes": between numbers, or before a unit, the
word that sounds like a number is one. Anywhere else it stays what it is. The sounds-alikes are those
a recogniser writes (homophones of English, and what it makes of "point"): common practice, no source.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from voicelog.interpret.numbers import NUMBER_OPENS
from voicelog.interpret.numerals import TEENS, TENS, UNITS, word_at
from voicelog.interpret.tokens import Token
from voicelog.interpret.units import unit_at

_SOUNDS_LIKE = {
    "to": "two", "too": "two", "tu": "two", "tow": "two", "through": "two", "for": "four",
    "fore": "four", "ford": "four", "ate": "eight", "aid": "eight", "won": "one",
    "wan": "one", "tree": "three", "free": "three", "sex": "six", "sicks": "six", "sick": "six",
    "fife": "five", "hive": "five", "fight": "five", "nigh": "nine", "mine": "nine",
    "tan": "ten", "tin": "ten", "seventh": "seven", "heaven": "seven", "they": "thirty",
    "dirty": "thirty", "fourty": "forty", "fity": "fifty", "plenty": "twenty",
}  # fmt: skip
_POINTS = frozenset(
    ("print", "pint", "points", "paint", "appoint", "pointy", "joint", "pointed", "punt")
)
_NUMBERS = frozenset((*UNITS, *TEENS, *TENS, "hundred", "zero", "oh", "half", "quarter"))
_LEADS_TO = ("down", "up", "from", "back", "close", "next", "near")
"""Words that "to" belongs to, whatever follows."""
_MENDED = 0.5
"""Confidence left to a word put right."""


def put_right(tokens: Sequence[Token]) -> tuple[Token, ...]:
    """The tokens with misheard number words put right where a number must stand."""
    words = [token.text for token in tokens]
    if not any(word in _SOUNDS_LIKE or word in _POINTS for word in words):
        return tuple(tokens)
    for at, word in enumerate(words):
        if word in _POINTS and _number(words, at - 1) and _number(words, at + 1, loosely=True):
            words[at] = "point"
    for at, word in enumerate(words):
        after_point = at > 0 and words[at - 1] == "point"
        if word in _SOUNDS_LIKE and (after_point or _must_be_number(words, at, tokens[at].stop)):
            words[at] = _SOUNDS_LIKE[word]
    return tuple(
        token
        if token.text == word
        else replace(token, text=word, confidence=min(token.confidence, _MENDED), heard=token.text)
        for token, word in zip(tokens, words, strict=True)
    )


def _number(words: Sequence[str], at: int, *, loosely: bool = False) -> bool:
    word = word_at(words, at)
    return word in _NUMBERS or word.isdecimal() or (loosely and word in _SOUNDS_LIKE)


def _must_be_number(words: Sequence[str], at: int, stop: str) -> bool:
    """Before a point, or before a unit, that has no other number to count it."""
    before, after = word_at(words, at - 1), word_at(words, at + 1)
    if stop:
        return False
    if after == "point" and _number(words, at + 2, loosely=True):
        return not _number(words, at - 1) and before not in _LEADS_TO
    unit = unit_at(words, at + 1)
    counted = before in NUMBER_OPENS or before.isdecimal()
    return unit is not None and unit.name != "m" and not counted
