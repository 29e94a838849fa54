"""The vocabulary as an index: which phrases can a run of words be, and how well do they fit?"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property, lru_cache

from voicelog.domain.reading import Phrase, Vocabulary
from voicelog.interpret.sounds import alike, sounds

LONGEST_PHRASE = 8
"""Words in the longest phrase."""

NEAR_ENOUGH = ((6, 0.9), (8, 0.84), (40, 0.78))
"""Letters at most, and the lowest likeness (0 to 1) at which an unknown run of words so long is
taken for a phrase: short words are alike by chance."""

_CONTRACTED = frozenset(("what's", "that's", "here's", "there's", "where's", "who's", "how's"))
"""Words whose ending is a verb of its own rather than part of a name."""

_LOOSE_SLOTS = frozenset(
    ("zone", "family", "condition", "probe", "act", "surround", "spoken_grade", "seat", "face")
)
_SHORTEST_LOOSE = 5
"""Letters below which likeness means nothing: half the short words of English are alike."""


@dataclass(frozen=True, slots=True)
class Match:
    """A phrase that a run of words can be.

    Args:
        phrase: the phrase.
        score: 1 for the very words, less for a known mishearing or for likeness.
    """

    phrase: Phrase
    score: float


@lru_cache(maxsize=20_000)
def fold(word: str) -> str:
    """The word without its plural or possessive ending."""
    if word.endswith("'s") and len(word) > 5 and word not in _CONTRACTED:
        word = word[:-2]
    return word[:-1] if len(word) > 3 and word.endswith("s") and not word.endswith("ss") else word


def key(words: Sequence[str]) -> str:
    """Words run together, so that "cross member" and "crossmembers" are one thing."""
    return "".join(fold(word) for word in words)


class Lexicon:
    """Phrases by key, and by likeness for words that the vocabulary does not have."""

    def __init__(self, vocabulary: Vocabulary) -> None:
        self._exact: dict[str, tuple[Match, ...]] = {}
        self._known: set[str] = set()
        self._loose: list[Phrase] = []
        for phrase in vocabulary.phrases:
            self._add(phrase)

    def _add(self, phrase: Phrase) -> None:
        words = phrase.text.split()
        match = Match(phrase, 0.9 if phrase.misheard else 1.0)
        folded = key(words)
        others = self._exact.get(folded, ())
        if all(other.phrase.slot != phrase.slot for other in others):
            self._exact[folded] = (*others, match)
        self._known.update(fold(word) for word in words if not phrase.misheard)
        if phrase.slot in _LOOSE_SLOTS and len(folded) >= _SHORTEST_LOOSE:
            self._loose.append(phrase)

    def knows(self, word: str) -> bool:
        """True when some phrase a person says has this word."""
        return fold(word) in self._known

    def exact(self, words: Sequence[str]) -> tuple[Match, ...]:
        """Phrases with these very words."""
        return self._exact.get(key(words), ())

    @cached_property
    def _sound_keys(self) -> list[str]:
        return [sounds(phrase.text) for phrase in self._loose]

    @cached_property
    def _spelt_keys(self) -> list[str]:
        return [key(phrase.text.split()) for phrase in self._loose]

    def near(self, words: Sequence[str], limit: int = 3) -> tuple[Match, ...]:
        """Phrases that look and sound like these words, best first; likeness mixes spelling
        (rapidfuzz's normalised indel similarity) and sound (:func:`sounds.alike`) half and half.
        """
        from rapidfuzz import fuzz, process

        spelt = key(words)
        if len(spelt) < _SHORTEST_LOOSE or len(spelt) > 40:
            return ()
        heard = sounds(" ".join(words))
        close = process.extract(
            heard, self._sound_keys, scorer=fuzz.ratio, limit=12, score_cutoff=55
        )
        enough = next(least for letters, least in NEAR_ENOUGH if len(spelt) <= letters)
        scored = []
        for _, _, index in close:
            phrase = self._loose[index]
            spelling = fuzz.ratio(spelt, self._spelt_keys[index]) / 100
            likeness = 0.5 * spelling + 0.5 * alike(heard, self._sound_keys[index])
            if likeness >= enough and spelt[0] == self._spelt_keys[index][0]:
                scored.append(Match(phrase, round(0.95 * likeness, 4)))
        scored.sort(key=lambda match: -match.score)
        return tuple(scored[:limit])
