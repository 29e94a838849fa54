"""Which phrases a run of words can be: the very words, the same stretched, or words like them."""

from __future__ import annotations

from collections.abc import Sequence
from functools import cached_property

from voicelog.domain.reading import Phrase, Vocabulary
from voicelog.interpret.gaps import Gaps
from voicelog.interpret.lexicon import Lexicon, Match
from voicelog.interpret.sounds import alike, sounds

_SAME_SOUND = 0.9
"""Score of a word that sounds exactly like another."""

_LONGEST_LIKE = 5
"""Words of the longest run that is compared by likeness."""


class Matcher:
    """One vocabulary, asked in order of trust.

    Args:
        vocabulary: every phrase.
    """

    def __init__(self, vocabulary: Vocabulary) -> None:
        self._lexicon = Lexicon(vocabulary)
        self._gaps = Gaps(vocabulary)
        self._side_phrases = [
            p for p in vocabulary.phrases if p.slot in ("side", "kerb") and " " not in p.text
        ]

    @cached_property
    def _sides(self) -> list[tuple[Phrase, str]]:
        return [(phrase, sounds(phrase.text)) for phrase in self._side_phrases]

    def matches(self, run: Sequence[str], *, whole: bool) -> tuple[Match, ...]:
        """What these words can be.

        Args:
            run: words, lower case.
            whole: no punctuation lies between them; across a stop only the very words count.
        """
        matches = self._lexicon.exact(run)
        if matches or not whole:
            return matches
        return self._gaps.stretched(run) or (self._lexicon.near(run) if self._strange(run) else ())

    def sounding(self, run: Sequence[str], slots: Sequence[str], least: float) -> tuple[Match, ...]:
        """Phrases of these classes that the words, known or not, sound like; best first."""
        found = self._lexicon.sounds_like(run, limit=8, least=least)
        return tuple(match for match in found if match.phrase.slot in slots)

    def side_sounding(self, word: str, least: float) -> Match | None:
        """The side whose one word this one sounds most like."""
        heard = sounds(word)
        scored = [
            Match(phrase, round(_SAME_SOUND * alike(heard, sound), 4))
            for phrase, sound in self._sides
        ]
        best = max(scored, key=lambda match: match.score, default=None)
        return best if best is not None and best.score >= least else None

    def _strange(self, run: Sequence[str]) -> bool:
        """Likeness is tried only where some word is not ours, and not with a word to spare."""
        if len(run) > _LONGEST_LIKE:
            return False
        if len(run) > 1 and (self._gaps.is_light(run[0]) or self._gaps.is_light(run[-1])):
            return False
        return any(not self._lexicon.knows(word) for word in run)
