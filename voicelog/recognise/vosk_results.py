"""What Vosk's JSON results say: hypotheses, words, times, and how sure it is of each word."""

from __future__ import annotations

import json
import math
from collections.abc import Sequence
from dataclasses import replace
from typing import Any

from voicelog.domain.heard import Hypothesis, Word

SAME_S = 0.2
"""Words of two hypotheses that begin no farther apart are the same one if they are spelt alike."""


def hypotheses(result: str, *, began_s: float = 0.0) -> tuple[Hypothesis, ...]:
    """The hypotheses in one of Vosk's JSON results, best first; none where nothing was said.

    Args:
        result: with ``alternatives``, or a single ``text`` whose words have a ``conf``.
        began_s: where the utterance began on the recogniser's clock.
    """
    document = json.loads(result)
    found = (_hypothesis(each, began_s) for each in document.get("alternatives", [document]))
    return tuple(hypothesis for hypothesis in found if hypothesis.text)


def sure(found: Sequence[Hypothesis], most: int) -> tuple[Hypothesis, ...]:
    """The best hypotheses, each word with its chance among them all where the library gives none.

    With alternatives, Vosk gives no confidence. A second recogniser without them would, and would
    take as long again; the shares that a word has among the alternatives come close to it.

    Args:
        found: best first.
        most: how many are kept.
    """
    best = max((hypothesis.score for hypothesis in found), default=0.0)
    weights = [math.exp(hypothesis.score - best) for hypothesis in found]
    return tuple(
        replace(hypothesis, words=tuple(_sure(word, found, weights) for word in hypothesis.words))
        for hypothesis in found[:most]
    )


def _sure(word: Word, found: Sequence[Hypothesis], weights: Sequence[float]) -> Word:
    if word.confidence is not None:
        return word
    pairs = zip(found, weights, strict=True)
    having = sum(weight for one, weight in pairs if any(_same(word, w) for w in one.words))
    return replace(word, confidence=round(having / sum(weights), 3))


def _same(one: Word, other: Word) -> bool:
    if one.text != other.text:
        return False
    return abs((one.start_s or 0.0) - (other.start_s or 0.0)) <= SAME_S


def _hypothesis(document: dict[str, Any], began_s: float) -> Hypothesis:
    words = tuple(
        Word(
            word["word"],
            word.get("conf"),
            round(word["start"] - began_s, 3),
            round(word["end"] - began_s, 3),
        )
        for word in document.get("result", ())
    )
    text = document.get("text", "").strip()
    words = words or tuple(Word(word) for word in text.split())
    return Hypothesis(text, float(document.get("confidence", 0.0)), words)
