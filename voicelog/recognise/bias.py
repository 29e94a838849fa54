"""Leaning towards the vocabulary while decoding (shallow fusion over a tree of phrases).

Every letter that carries a phrase of the vocabulary further earns a bonus in nats, spaces none.
What a phrase earned is kept once the phrase is complete at the end of a word, and taken back when
the text breaks off in the middle of it, so that "rusty" keeps nothing of "rust". A text is worth
the best way of laying phrases over it: several phrases may be under way at once ("left" and "left
front rail"), and the one that earned most counts.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass, field


@dataclass(slots=True, eq=False)
class Node:
    """One place in the tree: the letters that may follow, and whether a phrase ends here."""

    children: dict[str, Node] = field(default_factory=dict)
    ends: bool = False


@dataclass(frozen=True, slots=True)
class Lean:
    """How a text stands to the phrases.

    Args:
        kept: nats earned by complete phrases.
        under_way: phrases begun and not broken off, each with the nats it would bring in all.
        in_word: the text so far ends inside a word.
    """

    kept: float
    under_way: tuple[tuple[Node, float], ...]
    in_word: bool = False

    @property
    def worth(self) -> float:
        """Nats if every phrase under way were completed."""
        return max((self.kept, *(earned for _, earned in self.under_way)))


class PhraseTree:
    """The phrases of a vocabulary, letter by letter.

    Args:
        phrases: as they are spoken; case and punctuation do not matter.
        nats_per_letter: the bonus; SPEECH: 0.4 worked, 0.6 began to invent words.
    """

    def __init__(self, phrases: Iterable[str], *, nats_per_letter: float) -> None:
        self._nats = nats_per_letter
        self._root = Node()
        for phrase in phrases:
            self._grow(" ".join(re.findall(r"[^\W_]+(?:'[^\W_]+)*", _folded(phrase))))

    def _grow(self, phrase: str) -> None:
        if not phrase:
            return
        node = self._root
        for letter in phrase:
            node = node.children.setdefault(letter, Node())
        node.ends = True

    def start(self) -> Lean:
        """The standing of the empty text."""
        return Lean(0.0, ((self._root, 0.0),))

    def step(self, lean: Lean, text: str) -> Lean:
        """The standing after more text."""
        for letter in _folded(text):
            if letter.isalnum() or letter == "'":
                lean = self._inside(lean, letter)
            elif lean.in_word:
                lean = self._between(lean)
        return lean

    def finish(self, lean: Lean) -> Lean:
        """The standing once nothing more follows: phrases still under way are taken back."""
        ended = self._between(lean) if lean.in_word else lean
        return Lean(ended.kept, ())

    def _inside(self, lean: Lean, letter: str) -> Lean:
        onward = tuple(
            (node.children[letter], earned + self._nats)
            for node, earned in lean.under_way
            if letter in node.children
        )
        return Lean(lean.kept, onward, in_word=True)

    def _between(self, lean: Lean) -> Lean:
        kept = max((lean.kept, *(earned for node, earned in lean.under_way if node.ends)))
        onward = tuple(
            (node.children[" "], earned) for node, earned in lean.under_way if " " in node.children
        )
        return Lean(kept, (*onward, (self._root, kept)))


def _folded(text: str) -> str:
    return text.lower().replace("\N{RIGHT SINGLE QUOTATION MARK}", "'")
