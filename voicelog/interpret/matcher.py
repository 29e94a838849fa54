"""Which phrases a run of words can be: the very words, the same stretched, or words like them."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property

from voicelog.domain.reading import Phrase, Vocabulary
from voicelog.interpret.gaps import Gaps
from voicelog.interpret.lexicon import LONGEST_PHRASE, SAME_SOUND, Lexicon, Match, fold
from voicelog.interpret.numbers import NUMBER_OPENS
from voicelog.interpret.sounds import alike, sounds
from voicelog.interpret.tokens import Token
from voicelog.interpret.units import LENGTHS, unit_words

_ONE_SIDE = ("left", "right", "near", "off")
"""Values of the words that name one of two sides."""
_MEASURING = NUMBER_OPENS | unit_words(*LENGTHS, "percent", "gauge")
_MOST_WEAK = 1
"""Words at most that say nothing, in a run that is compared by likeness."""
_LONGEST_LIKE = 5
"""Words of the longest run that is compared by likeness."""


@dataclass(frozen=True, slots=True)
class Sentence:
    """The words of an utterance, with what the vocabulary knows of each.

    Args:
        words: as tokenised.
        folded: without plural and possessive endings.
        light: whether it may stand inside any phrase.
        known: whether some phrase has it, or it counts or measures.
        weak: whether it says nothing by itself.
        stops: whether punctuation follows it.
    """

    words: tuple[str, ...]
    folded: tuple[str, ...]
    light: tuple[bool, ...]
    known: tuple[bool, ...]
    weak: tuple[bool, ...]
    stops: tuple[bool, ...]


class Matcher:
    """One vocabulary, asked in order of trust.

    Args:
        vocabulary: every phrase.
    """

    def __init__(self, vocabulary: Vocabulary) -> None:
        self._lexicon = Lexicon(vocabulary)
        self._gaps = Gaps(vocabulary)
        self._side_phrases = [
            p for p in vocabulary.phrases if p.value in _ONE_SIDE and " " not in p.text
        ]

    @cached_property
    def _sides(self) -> list[tuple[Phrase, str]]:
        return [(phrase, sounds(phrase.text)) for phrase in self._side_phrases]

    def sentence(self, tokens: Sequence[Token]) -> Sentence:
        """The tokens with what is asked of each again and again."""
        words = tuple(token.text for token in tokens)
        return Sentence(
            words,
            tuple(fold(word) for word in words),
            tuple(self._gaps.is_light(word) for word in words),
            tuple(self._lexicon.knows(word) or _counts(word) for word in words),
            tuple(self._gaps.is_weak(word) for word in words),
            tuple(bool(token.stop) for token in tokens),
        )

    def starting(self, said: Sentence, start: int) -> Iterator[tuple[int, bool, Match]]:
        """What the runs of words that begin at ``start`` can be.

        The very words; else, where no punctuation lies inside, the same stretched; else, of runs
        that hold a strange word and none to spare at either end, the like.

        Yields:
            The index after the run, whether punctuation lies inside it, and a phrase that it can be.
        """
        spelt, crossed, strange, stretches = "", False, False, True
        carried: tuple[str, ...] = ()
        for end in range(start + 1, min(len(said.words), start + LONGEST_PHRASE) + 1):
            last = end - 1
            spelt += said.folded[last]
            strange = strange or not said.known[last]
            spare = said.light[start] or said.light[last]
            if not said.light[last]:
                carried = (*carried, said.folded[last])
                stretches = stretches and self._gaps.carries(said.folded[last])
            matches = self._lexicon.spelt(spelt)
            if not matches and not crossed:
                if stretches and not spare and len(carried) > 1:
                    matches = self._gaps.stretched(carried)
                alone = end - start == 1
                weak = sum(said.weak[start:end])
                short = alone or (end - start <= _LONGEST_LIKE and not spare and weak <= _MOST_WEAK)
                if not matches and strange and short:
                    matches = self._lexicon.near(said.words[start:end])
            for match in matches:
                yield end, crossed, match
            crossed = crossed or said.stops[last]

    def carried(self, words: Sequence[str]) -> tuple[Match, ...]:
        """Phrases that are these very words, or these with small words between or turned round."""
        strong = tuple(fold(word) for word in words if not self._gaps.is_light(word))
        return self._lexicon.exact(words) or self._gaps.stretched(strong)

    def sounding(self, run: Sequence[str], slots: Sequence[str], least: float) -> tuple[Match, ...]:
        """Phrases of these classes that the words, known or not, sound like; best first."""
        found = self._lexicon.sounds_like(run, limit=8, least=least)
        return tuple(match for match in found if match.phrase.slot in slots)

    def side_sounding(self, word: str, least: float) -> Match | None:
        """The side whose one word this one sounds most like."""
        heard = sounds(word)
        scored = [
            Match(phrase, round(SAME_SOUND * alike(heard, sound), 4))
            for phrase, sound in self._sides
        ]
        best = max(scored, key=lambda match: match.score, default=None)
        return best if best is not None and best.score >= least else None


def _counts(word: str) -> bool:
    """A number or a unit: no phrase holds it, and yet it is no stranger."""
    return word in _MEASURING or word.isdecimal()
