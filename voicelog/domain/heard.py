"""What an ear made of one utterance: hypotheses, words, confidences."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Word:
    """One recognised word.

    Args:
        text: the word as the ear wrote it, punctuation included.
        confidence: 0 to 1, or None where the ear gives none.
        start_s: start from the beginning of the clip in seconds, or None.
        end_s: end from the beginning of the clip in seconds, or None.
    """

    text: str
    confidence: float | None = None
    start_s: float | None = None
    end_s: float | None = None


@dataclass(frozen=True, slots=True)
class Hypothesis:
    """One way to write down what was said.

    Args:
        text: the whole utterance.
        score: higher is better, comparable only within one :class:`Heard` (natural log of a
            probability where the ear has one).
        words: the same text word by word.
    """

    text: str
    score: float = 0.0
    words: tuple[Word, ...] = ()


@dataclass(frozen=True, slots=True)
class Heard:
    """All hypotheses of one ear for one utterance, best first; none when nothing was heard."""

    hypotheses: tuple[Hypothesis, ...]
    engine: str
    model: str = ""

    @property
    def text(self) -> str:
        """The best hypothesis, or the empty string."""
        return self.hypotheses[0].text if self.hypotheses else ""

    @classmethod
    def typed(cls, text: str) -> Heard:
        """Text from a keyboard or a file, as if an ear had heard exactly that."""
        words = tuple(Word(word, 1.0) for word in text.split())
        return cls((Hypothesis(text, 0.0, words),), engine="typed")
