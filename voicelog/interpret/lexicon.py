"""The vocabulary as an index: which phrases can a run of words be, and how well do they fit?"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import cached_property, lru_cache

from voicelog.domain.reading import Phrase, Vocabulary
from voicelog.interpret.echoes import Echoes

LONGEST_PHRASE = 8
"""Words in the longest phrase."""

NEAR_ENOUGH = ((6, 0.84), (8, 0.8), (40, 0.77))
"""Letters at most, and the lowest likeness (0 to 1) at which an unknown run of words so long is
taken for a phrase: short words are alike by chance.

Measured on the vocabulary's 651 known mishearings of five letters or more, as if they were not
known: 0.82 are taken for the right phrase, 0.003 for another; of the 1988 runs with a word of no
phrase in 180 lines of chatter, 5 are taken for one."""

_BY_SOUND = 0.8
"""Share of the sound in likeness, the spelling having the rest: of 0.5, 0.65 and 0.8 the share that
takes the most mishearings for the right phrase and the fewest other words for any."""

_BY_SOUND_KNOWN = 0.9
"""The same where all the words may be real ones: an ear spells what it misheard without a fault."""

_LIKE = 0.95
"""Score of a phrase that looks and sounds exactly like an unknown run of words."""

SAME_SOUND = 0.9
"""Score of a phrase that sounds exactly like other words."""

_KNOWN_MISHEARD = 0.9
"""Score of what a recogniser is known to make of a phrase."""

_CONTRACTED = frozenset(
    ("what's", "that's", "here's", "there's", "where's", "who's", "how's", "she's", "let's")
)
"""Words whose ending is a verb of its own rather than part of a name."""

_LOOSE_SLOTS = frozenset(
    ("zone", "family", "condition", "probe", "act", "surround", "spoken_grade", "seat", "face")
)
_HEARD_SLOTS = _LOOSE_SLOTS | {"rust", "rot", "repair", "layer"}
"""Slots of the phrases that other words may be a mishearing of, where context decides."""
_SHORTEST_LOOSE = 5
"""Letters below which likeness means nothing: half the short words of English are alike."""
_LONGEST_LOOSE = 40
_SHORTEST_HEARD = 3
"""Letters of the shortest phrase that other words can sound like, where context decides."""

_KEPT = 4_096
"""Answers kept: the hypotheses of one utterance share most of their words."""


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
    if word.endswith("'s") and len(word) > 4 and word not in _CONTRACTED:
        word = word[:-2]
    return word[:-1] if len(word) > 3 and word.endswith("s") and not word.endswith("ss") else word


def key(words: Sequence[str]) -> str:
    """Words run together, so that "cross member" and "crossmembers" are one thing."""
    return "".join(map(fold, words))


def _gives_way(earlier: Phrase, later: Phrase) -> bool:
    """Both are mishearings of the same slot and mean something else."""
    return earlier.misheard and earlier.slot == later.slot and earlier.value != later.value


class Lexicon:
    """Phrases by key, and by likeness for words that the vocabulary does not have."""

    def __init__(self, vocabulary: Vocabulary) -> None:
        said = " ".join([phrase.text for phrase in vocabulary.phrases if not phrase.misheard])
        self._known = frozenset(map(fold, set(said.split())))
        self._exact: dict[str, tuple[Phrase, ...]] = {}
        self._heard: dict[str, list[Phrase]] = {}
        self._echoing = lru_cache(maxsize=_KEPT)(self._echo)
        for phrase in vocabulary.phrases:
            self._add(phrase)

    def _add(self, phrase: Phrase) -> None:
        folded = key(phrase.text.split())
        others = self._exact.get(folded, ())
        if phrase.misheard:  # "seal", learned after "seals": what was learned last holds
            others = tuple([other for other in others if not _gives_way(other, phrase)])
        if phrase.slot not in [other.slot for other in others]:
            self._exact[folded] = (*others, phrase)
        if phrase.slot in _HEARD_SLOTS and not phrase.misheard and len(folded) >= _SHORTEST_HEARD:
            self._heard.setdefault(folded, []).append(phrase)

    def knows(self, word: str) -> bool:
        """True when some phrase a person says has this word."""
        return fold(word) in self._known

    def exact(self, words: Sequence[str]) -> tuple[Match, ...]:
        """Phrases with these very words."""
        return self.spelt(key(words))

    def spelt(self, spelt: str) -> tuple[Match, ...]:
        """Phrases with this key: folded words run together."""
        found = self._exact.get(spelt, ())
        return tuple(
            [Match(phrase, _KNOWN_MISHEARD if phrase.misheard else 1.0) for phrase in found]
        )

    @cached_property
    def _spelt(self) -> list[str]:
        return list(self._heard)

    @cached_property
    def _echoes(self) -> Echoes:
        return Echoes([phrases[0].text for phrases in self._heard.values()], self._spelt)

    def near(self, words: Sequence[str], limit: int = 3) -> tuple[Match, ...]:
        """Phrases that look and sound like these words, some of which the vocabulary does not
        have, best first, one for each meaning. They begin with the same letter, since beginnings are
        what is heard best; short words are not taken for anything.
        """
        spelt = key(words)
        if not _SHORTEST_LOOSE <= len(spelt) <= _LONGEST_LOOSE:
            return ()
        least = next(least for letters, least in NEAR_ENOUGH if len(spelt) <= letters)
        return self._matches(
            Match(phrase, round(_LIKE * likeness, 4))
            for likeness, phrase, other in self._echoing(tuple(words), least, _BY_SOUND, spelt[0])
            if phrase.slot in _LOOSE_SLOTS and len(other) >= _SHORTEST_LOOSE
        )[:limit]

    def sounds_like(
        self, words: Sequence[str], limit: int = 3, least: float = 0.65
    ) -> tuple[Match, ...]:
        """Other phrases that these words, known or not, may be a mishearing of, best first, one
        for each meaning: for callers that weigh them in context, since "rest" sounds like "rust"
        in chatter too.

        Args:
            words: what was heard.
            limit: phrases at most.
            least: lowest score, 0 to 1; 0.9 is that of the very same sound.
        """
        spelt = key(words)
        if len(spelt) > _LONGEST_LOOSE:
            return ()
        least /= SAME_SOUND
        return self._matches(
            Match(phrase, round(SAME_SOUND * likeness, 4))
            for likeness, phrase, other in self._echoing(tuple(words), least, _BY_SOUND_KNOWN)
            if spelt != other
        )[:limit]

    def _echo(
        self, words: tuple[str, ...], least: float, by_sound: float, begins: str = ""
    ) -> tuple[tuple[float, Phrase, str], ...]:
        """Phrases with their likeness and their keys; not those that only have a word more or less
        than was heard, since then none was misheard.
        """
        spelt = key(words)
        echoes = self._echoes.like(
            " ".join(words), spelt, least=least, by_sound=by_sound, begins=begins
        )
        return tuple(
            (likeness, phrase, self._spelt[place])
            for likeness, place in echoes
            for phrase in self._heard[self._spelt[place]]
            if self._spelt[place] == spelt or not _one_in_other(words, phrase.text.split())
        )

    @staticmethod
    def _matches(found: Iterable[Match]) -> tuple[Match, ...]:
        best: dict[tuple[str, str], Match] = {}
        for match in sorted(found, key=lambda match: -match.score):
            best.setdefault((match.phrase.slot, match.phrase.value), match)
        return tuple(best.values())


def _one_in_other(one: Sequence[str], other: Sequence[str]) -> bool:
    mine, theirs = (f" {' '.join(map(fold, words))} " for words in (one, other))
    return mine in theirs or theirs in mine
