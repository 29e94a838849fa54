"""The radiotelephony spelling alphabet, and letters and digits by their own names."""

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
_LETTER_NAMES = (
    "b:bee c:cee d:dee f:eff g:gee h:aitch h:haitch j:jay k:kay l:ell l:el m:em n:en p:pee q:cue "
    "q:queue r:ar s:ess t:tee v:vee x:ex y:wye z:zed z:zee"
)
_SOUND_LIKE = "b:be c:see c:sea p:pea r:are t:tea u:you y:why 1:won 2:to 2:too 4:for 4:fore 8:ate"
"""What an ear may write for a letter or digit; taken for one only in front of another one."""


def _pairs(text: str) -> dict[str, str]:
    """Words to the character before their colon."""
    return {word: character.upper() for character, word in (p.split(":") for p in text.split())}


SPOKEN: Mapping[str, str] = (
    {word: word[0].upper() for word in _LETTER_WORDS.split()}
    | {letter: letter.upper() for letter in "abcdefghijklmnopqrstuvwxyz"}
    | {word: str(value) for value, word in enumerate(_DIGIT_WORDS.split())}
    | {word: str(value) for value, word in enumerate(_ITU_DIGIT_WORDS.split())}
    | _SPOKEN_DIGITS
    | _VARIANTS
    | _pairs(_LETTER_NAMES)
)
"""One word to the character it stands for; "x ray" and "double u" are handled beside it."""
_WRITTEN_FOR = _pairs(_SOUND_LIKE)
_TWO_WORDS = {("x", "ray"): "X", ("ex", "ray"): "X", ("double", "u"): "W", ("double", "you"): "W"}
_REPEATED = {"double": 2, "triple": 3, "treble": 3}
_PAUSES = frozenset(("uh", "um", "er", "erm", "dash", "hyphen", "space"))


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

    Digits and codes written as such ("42", "b42c") are taken one by one, "double seven" as two;
    hesitations and dashes between characters are passed over.
    """
    text, at = "", start
    while at < len(tokens):
        begin = _past_pauses(tokens, at)
        characters, step = _characters(tokens, begin)
        if not step:
            break
        text, at = text + characters, begin + step
    return Spelled(text, at)


def _past_pauses(tokens: Sequence[str], at: int) -> int:
    while at < len(tokens) and tokens[at] in _PAUSES:
        at += 1
    return at


def _characters(tokens: Sequence[str], at: int) -> tuple[str, int]:
    """What the words there stand for, and how many they are; 0 when they stand for nothing."""
    word, following = (*tokens[at : at + 2], "", "")[:2]
    pair = _TWO_WORDS.get((word, following))
    if pair is not None:
        return pair, 2
    if word in _REPEATED:
        character, step = _characters(tokens, at + 1)
        return (character * _REPEATED[word], step + 1) if len(character) == 1 else ("", 0)
    if word in _WRITTEN_FOR and _stands_before_another(tokens, at):
        return _WRITTEN_FOR[word], 1
    if word.isascii() and word.isalnum() and any(letter.isdecimal() for letter in word):
        return word.upper(), 1
    character = SPOKEN.get(word, "")
    return character, 1 if character else 0


def _stands_before_another(tokens: Sequence[str], at: int) -> bool:
    """True at the end, or where another character follows: "to" is a 2 in "to seven" only."""
    after = _past_pauses(tokens, at + 1)
    following = tokens[after] if after < len(tokens) else "2"
    return following in SPOKEN or following in _WRITTEN_FOR or following[:1].isdecimal()
