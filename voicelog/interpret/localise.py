"""Numbers and units said in another language, put into the English that numbers are read in.

A grammar gives the words as data (word classes ``number``, ``unit``, ``point``, ``article`` and
``amount``); a vocabulary without them costs nothing. Only what stands at a number is rewritten:
the rest of the sentence is left to the vocabulary.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from voicelog.domain.reading import Vocabulary
from voicelog.interpret.tokens import Token

_ENGLISH = {
    "millimetre": "mm",
    "centimetre": "cm",
    "metre": "metres",
    "inch": "inches",
    "foot": "feet",
    "100": "hundred",
    "1000": "thousand",
    "one": "1",
    ",": "point",
    ".": "point",
}
"""What is written otherwise than its value; hundred and thousand can be multiplied so."""


@dataclass(frozen=True, slots=True)
class _Run:
    """Tokens that are one word of a number, or one token that is none.

    Args:
        tokens: as heard.
        kind: the word class; ``number`` for figures too, empty for any other word.
        english: what it is read as, where it stands at a number.
    """

    tokens: tuple[Token, ...]
    kind: str = ""
    english: str = ""

    def put(self) -> Token:
        """One English token in the place of all."""
        least = min(token.confidence for token in self.tokens)
        return replace(self.tokens[-1], text=self.english, confidence=least)


class Numerals:
    """The words for numbers and units of one vocabulary.

    Args:
        vocabulary: its ``numerals`` are used.
    """

    def __init__(self, vocabulary: Vocabulary) -> None:
        self._known = {
            tuple(phrase.text.split()): (phrase.slot, _ENGLISH.get(phrase.value, phrase.value))
            for phrase in vocabulary.numerals
            if phrase.slot != "measuring"
        }
        self._longest = max(map(len, self._known), default=0)
        self._comma = any(p.slot == "point" and p.value == "," for p in vocabulary.numerals)

    def localised(self, tokens: Sequence[Token]) -> tuple[Token, ...]:
        """The tokens with these words in English, and figures with a decimal comma made one."""
        if not self._known:
            return tuple(tokens)
        runs = self._runs(_with_commas(tokens) if self._comma else tokens)
        put: list[Token] = []
        for index, run in enumerate(runs):
            put.extend((run.put(),) if _counts(runs, index) else run.tokens)
        return tuple(put)

    def _runs(self, tokens: Sequence[Token]) -> list[_Run]:
        runs: list[_Run] = []
        at = 0
        while at < len(tokens):
            runs.append(self._run(tokens, at))
            at += len(runs[-1].tokens)
        return runs

    def _run(self, tokens: Sequence[Token], at: int) -> _Run:
        """The longest phrase that starts there, no stop inside; else the one token."""
        for length in range(min(self._longest, len(tokens) - at), 0, -1):
            said = tuple(tokens[at : at + length])
            found = self._known.get(tuple(token.text for token in said))
            if found is not None and not any(token.stop for token in said[:-1]):
                return _Run(said, *found)
        figures = tokens[at].text[:1].isdecimal()
        return _Run((tokens[at],), "number" if figures else "", tokens[at].text)


def _counts(runs: Sequence[_Run], index: int) -> bool:
    """Whether the word stands for a part of a number there: "ein" only before a unit, and so on."""
    kind = runs[index].kind
    before, after = _beside(runs, index - 1, index), _beside(runs, index + 1, index)
    if kind == "article":
        return after == "unit"
    if kind == "unit":
        return before in ("number", "article")
    if kind == "point":
        return (before, after) == ("number", "number")
    if kind == "amount":
        return _joins(runs, index, before) and after in ("number", "article", "amount")
    return kind == "number"


def _joins(runs: Sequence[_Run], index: int, before: str) -> bool:
    """Hedges open an amount; the others stand behind one, "and" only in a range begun so."""
    english = runs[index].english
    if english in ("about", "between"):
        return True
    opened = any(run.english == "between" for run in runs[max(0, index - 4) : index])
    return before in ("number", "unit") and (opened or english != "and")


def _beside(runs: Sequence[_Run], other: int, index: int) -> str:
    """The word class beside a word; empty at either end and across a stop."""
    if not 0 <= other < len(runs) or runs[min(other, index)].tokens[-1].stop:
        return ""
    return runs[other].kind


def _with_commas(tokens: Sequence[Token]) -> list[Token]:
    """ "2," and "5" as 2.5: where a comma is the decimal sign, a list in figures is rarer."""
    joined: list[Token] = []
    for token in tokens:
        last = joined[-1] if joined else None
        if last and last.stop == "," and last.text.isdecimal() and token.text.isdecimal():
            joined[-1] = replace(token, text=f"{last.text}.{token.text}")
        else:
            joined.append(token)
    return joined
