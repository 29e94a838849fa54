"""Which phrase of a few some words sound most like: a mishearing of which one?"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import NamedTuple

from voicelog.domain.lesson import Lesson
from voicelog.domain.reading import Phrase
from voicelog.interpret.bounds import least_apart, profile
from voicelog.interpret.lexicon import fold, key
from voicelog.interpret.sounds import alike, sounds, weight

LEAST = 0.7
"""Lowest likeness (0 to 1) at which words may be a mishearing of a phrase.

Measured: 0.97 of the vocabulary's 631 known mishearings of up to four words are so like a phrase of
their own meaning; of 2501 slots of the tuning corpus corrected to another value at random, where
nothing was misheard, 0.016 yield a lesson. At 0.65 it is 0.98 and 0.032, at 0.75 0.94 and 0.007."""

_BY_SOUND = 0.9
"""Share of the sound in likeness, as for known words: an ear spells what it misheard rightly."""


class _Sounding(NamedTuple):
    """A phrase with what is asked of it again and again."""

    phrase: Phrase
    spelt: str
    sound: str
    weight: float
    profile: int


class Likeness:
    """Phrases that words may be a mishearing of: the few of one meaning, each compared in full.

    An index over the sounds (:class:`~voicelog.interpret.echoes.Echoes`) would miss a third of what
    was misheard badly enough to need a correction.
    """

    def __init__(self, phrases: Iterable[Phrase]) -> None:
        from rapidfuzz.fuzz import ratio

        self._ratio = ratio
        self._phrases = [_sounding(phrase) for phrase in phrases]

    def lesson(self, words: Sequence[str]) -> Lesson | None:
        """The phrase most like them that has at least one other word."""
        spelt, heard = key(words), sounds(" ".join(words))
        mine = _Sounding(
            Phrase(" ".join(words), "", ""), spelt, heard, weight(heard), profile(heard)
        )
        best, phrase = 0.0, None
        for other in self._phrases:
            likeness = self._alike(mine, other, max(best, LEAST))
            if likeness > best and _differs(words, other.phrase.text.split()):
                best, phrase = likeness, other.phrase
        if phrase is None:
            return None
        return Lesson(
            mine.phrase.text, phrase.slot, phrase.value, phrase.text, round(best, 4), phrase.also
        )

    def _alike(self, one: _Sounding, other: _Sounding, least: float) -> float:
        """How alike they are; 0 where it is under ``least``, mostly found out at once."""
        letters = (1.0 - _BY_SOUND) * self._ratio(one.spelt, other.spelt) / 100
        needed = max(0.0, (least - letters) / _BY_SOUND)
        apart = max(abs(one.weight - other.weight), least_apart(one.profile, other.profile))
        both = one.weight + other.weight
        if both and 1.0 - 2.0 * apart / (both + apart) < needed:
            return 0.0
        likeness = letters + _BY_SOUND * alike(one.sound, other.sound, needed)
        return likeness if likeness >= least else 0.0


def _sounding(phrase: Phrase) -> _Sounding:
    sound = sounds(phrase.text)
    spelt = key(phrase.text.split())
    return _Sounding(phrase, spelt, sound, weight(sound), profile(sound))


def _differs(words: Sequence[str], phrase: Sequence[str]) -> bool:
    """Neither only has a word more than the other: then none was misheard."""
    mine, theirs = (f" {' '.join(map(fold, each))} " for each in (words, phrase))
    return mine not in theirs and theirs not in mine and key(words) != key(phrase)
