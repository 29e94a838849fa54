"""The words of an utterance at the bench: how sure each is, when it was said, which entry says it."""

from __future__ import annotations

from dataclasses import dataclass, replace

from voicelog.domain.entry import Entry
from voicelog.domain.heard import Heard, Hypothesis, Word
from voicelog.domain.utterance import Utterance

FAINT = 0.5
"""Confidence under which a word is a guess; ours."""
SHAKY = 0.8
"""Confidence under which a word should be listened to; ours."""

WORD_SIGNS = {"faint": "??", "shaky": "?", "sure": ""}
"""What stands behind a word, so that no colour is needed."""

MOST = 400
"""Words of one utterance that are shown; an utterance of 20 s holds about 60."""


@dataclass(frozen=True, slots=True)
class Spoken:
    """The hypothesis that was read.

    Args:
        words: it, word by word.
        at: the word that is looked at, from 0.
        estimated: the ear gave no times; those of the words were worked out.
    """

    words: tuple[Word, ...] = ()
    at: int = 0
    estimated: bool = False

    @classmethod
    def of(cls, utterance: Utterance) -> Spoken:
        """The words of an utterance, the first one looked at."""
        return cls(words_of(read_hypothesis(utterance.heard, utterance.reading))[:MOST])

    def step(self, by: int) -> Spoken:
        """Another word looked at; at the ends it stays."""
        return replace(self, at=max(0, min(self.at + by, len(self.words) - 1)))

    def timed(self, heard: Heard, reading: str) -> Spoken:
        """The same with the times of the words."""
        words = words_of(read_hypothesis(heard, reading))[:MOST]
        estimated = self.estimated or any(word.start_s is None for word in self.words)
        return Spoken(words, min(self.at, max(0, len(words) - 1)), estimated)

    @property
    def start_s(self) -> float | None:
        """When the word looked at begins; None where nobody knows."""
        return self.words[self.at].start_s if self.words else None

    def word_at(self, at_s: float) -> int | None:
        """The word that is being said at a moment; None between words."""
        for number, word in enumerate(self.words):
            timed = word.start_s is not None and word.end_s is not None
            if timed and word.start_s <= at_s < word.end_s:  # type: ignore[operator]
                return number
        return None

    def word_of(self, entry: Entry) -> int | None:
        """Which word of the entry's own text is looked at, from 0.

        An utterance of two findings is read in two parts; a text typed anew holds none of them.
        """
        own = [_bare(word) for word in entry.text.split()]
        said = [_bare(word.text) for word in self.words]
        for begin in range(len(said) - len(own) + 1):
            if own and said[begin : begin + len(own)] == own:
                at = self.at - begin
                return at if 0 <= at < len(own) else None
        return None


def read_hypothesis(heard: Heard, reading: str) -> Hypothesis:
    """The hypothesis that was read, else the best one."""
    for hypothesis in heard.hypotheses:
        if hypothesis.text == reading:
            return hypothesis
    return heard.hypotheses[0] if heard.hypotheses else Hypothesis("")


def words_of(hypothesis: Hypothesis) -> tuple[Word, ...]:
    """Word by word, also where the ear gave only the text."""
    return hypothesis.words or tuple(map(Word, hypothesis.text.split()))


def sureness(word: Word) -> str:
    """``faint``, ``shaky`` or ``sure``; sure where the ear does not say."""
    if word.confidence is None or word.confidence >= SHAKY:
        return "sure"
    return "faint" if word.confidence < FAINT else "shaky"


def _bare(word: str) -> str:
    return "".join(c for c in word.casefold() if c.isalnum())
