"""What an ear made of one utterance: hypotheses, words, confidences."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any


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


def heard_to_json(heard: Heard) -> dict[str, Any]:
    """What an ear heard as a JSON object, words with what is known of them."""
    return {
        "engine": heard.engine,
        "model": heard.model,
        "hypotheses": [
            {
                "text": hypothesis.text,
                "score": round(hypothesis.score, 4),
                "words": [
                    {
                        name: value
                        for name, value in (
                            ("text", word.text),
                            ("confidence", word.confidence),
                            ("start_s", word.start_s),
                            ("end_s", word.end_s),
                        )
                        if value is not None
                    }
                    for word in hypothesis.words
                ],
            }
            for hypothesis in heard.hypotheses
        ],
    }


def heard_from_json(document: Mapping[str, Any]) -> Heard:
    """The way back from :func:`heard_to_json`.

    Raises:
        KeyError, ValueError, TypeError: when the object is not what an ear heard.
    """
    return Heard(
        tuple(map(_hypothesis_from_json, document["hypotheses"])),
        str(document["engine"]),
        str(document.get("model", "")),
    )


def _hypothesis_from_json(document: Mapping[str, Any]) -> Hypothesis:
    known = ("confidence", "start_s", "end_s")
    words = tuple(
        Word(str(word["text"]), *(_number(word.get(name)) for name in known))
        for word in document.get("words", ())
    )
    return Hypothesis(str(document["text"]), float(document.get("score", 0.0)), words)


def _number(value: object) -> float | None:
    if value is None or (isinstance(value, int | float) and not isinstance(value, bool)):
        return value
    raise TypeError(f"{value!r} is no number")
