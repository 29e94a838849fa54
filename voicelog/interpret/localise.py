"""Numbers and units said in another language, put into the English that numbers are read in.

A grammar gives the words as data (word classes ``number``, ``unit``, ``point``, ``article`` and
``amount``); a vocabulary without them costs nothing. What is rewritten here is only what stands
for a number: the rest of the sentence is left to the vocabulary.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from voicelog.domain.reading import Phrase, Vocabulary
from voicelog.interpret.tokens import Token

_ENGLISH = {
    "millimetre": "mm",
    "centimetre": "cm",
    "metre": "metres",
    "inch": "inches",
    "foot": "feet",
    "100": "hundred",
    "1000": "thousand",
}
"""What is read as something else than its own value; the last two may be multiplied."""


class Numerals:
    """The words for numbers and units of one vocabulary.

    Args:
        vocabulary: its ``numerals`` are used.
    """

    def __init__(self, vocabulary: Vocabulary) -> None:
        self._known = {tuple(phrase.text.split()): phrase for phrase in vocabulary.numerals}
        self._known = {w: p for w, p in self._known.items() if p.slot != "measuring"}
        self._longest = max(map(len, self._known), default=0)
        self._comma = any(p.slot == "point" and p.value == "," for p in self._known.values())

    def localised(self, tokens: Sequence[Token]) -> tuple[Token, ...]:
        """The tokens with these words in English, figures with a decimal comma as one figure."""
        if not self._known:
            return tuple(tokens)
        runs = self._runs(_with_commas(tokens) if self._comma else tokens)
        said = [run for index, run in enumerate(runs) if not _dropped(runs, index)]
        return tuple(token for run in said for token in run.tokens)

    def _runs(self, tokens: Sequence[Token]) -> list[_Run]:
        runs: list[_Run] = []
        at = 0
        while at < len(tokens):
            run = self._run(tokens, at)
            runs.append(run)
            at += len(run.said)
        return _settled(runs)

    def _run(self, tokens: Sequence[Token], at: int) -> _Run:
        """The longest phrase that starts there, no stop inside; else the one token."""
        for length in range(min(self._longest, len(tokens) - at), 0, -1):
            said = tuple(tokens[at : at + length])
            phrase = self._known.get(tuple(token.text for token in said))
            if phrase is not None and not any(token.stop for token in said[:-1]):
                return _Run(said, phrase)
        return _Run((tokens[at],), None)
