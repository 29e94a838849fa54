"""Leaning towards the vocabulary while decoding (shallow fusion over a tree of phrases).

Every letter that carries a phrase of the vocabulary further earns a bonus in nats, spaces none.
What a phrase earned is kept once the phrase is complete at the end of a word, and taken back when
the text breaks off in the middle of it, so that "rusty" keeps nothing of "rust". A complete phrase
earns a little more or less by what it follows (``context.py``). A text is worth the best way of
laying phrases over it: several phrases may be under way at once ("left" and "left front rail"), and
the one that earned most counts.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from typing import NamedTuple

from voicelog.recognise.context import NO_CONTEXT, START, Context

LIKELY = 1.25
"""Factor on the bonus of phrases that are likelier than usual."""

NO_KINDS: Mapping[str, str] = {}
"""Nothing is known of the phrases but their words."""


@dataclass(slots=True, eq=False)
class Node:
    """One place in the tree.

    Args:
        children: the letters that may follow.
        kinds: of the phrases that end here; an empty one where it is not known.
    """

    children: dict[str, Node] = field(default_factory=dict)
    kinds: tuple[str, ...] = ()


class Begun(NamedTuple):
    """A phrase begun and not broken off.

    Args:
        node: how far it got.
        earned: nats it would bring, with what was kept before it.
        per_letter: nats its next letter earns.
        before: kind of the phrase before it.
    """

    node: Node
    earned: float
    per_letter: float
    before: str


@dataclass(frozen=True, slots=True)
class Lean:
    """How a text stands to the phrases.

    Args:
        kept: nats earned by complete phrases.
        under_way: phrases begun and not broken off.
        worth: nats if every phrase under way were completed, and those that may end here did.
        last: kind of the last complete phrase.
        in_word: the text so far ends inside a word.
    """

    kept: float
    under_way: tuple[Begun, ...]
    worth: float = 0.0
    last: str = START
    in_word: bool = False


class PhraseTree:
    """The phrases of a vocabulary, letter by letter.

    Args:
        phrases: as they are spoken; case and punctuation do not matter.
        nats_per_letter: the bonus; SPEECH: 0.4 worked, 0.6 began to invent words.
        kinds: the kind of each phrase, where it is known.
        context: which kind follows which.
    """

    def __init__(
        self,
        phrases: Iterable[str],
        *,
        nats_per_letter: float,
        kinds: Mapping[str, str] = NO_KINDS,
        context: Context = NO_CONTEXT,
    ) -> None:
        self._context, self._nats = context, nats_per_letter
        self._root = _grown(phrases, kinds)
        self._roots = ((self._root, nats_per_letter),)
        self._first = START

    def expecting(self, likely: Iterable[str] = (), first: str = START) -> PhraseTree:
        """The same tree where something is known beforehand; it shares its phrases with this one.

        Args:
            likely: phrases that earn more than usual.
            first: what the utterance follows.
        """
        tree = PhraseTree((), nats_per_letter=self._nats, context=self._context)
        tree._root, tree._first = self._root, first
        more = _grown(likely, NO_KINDS)
        extra = ((more, LIKELY * self._nats),) if more.children else ()
        tree._roots = ((self._root, self._nats), *extra)
        return tree

    def start(self) -> Lean:
        """The standing of the empty text."""
        return Lean(0.0, self._anew(0.0, self._first), 0.0, self._first)

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
        return Lean(ended.kept, (), ended.kept, ended.last)

    def _inside(self, lean: Lean, letter: str) -> Lean:
        onward = tuple(
            Begun(node.children[letter], earned + nats, nats, before)
            for node, earned, nats, before in lean.under_way
            if letter in node.children
        )
        worth = lean.kept
        for begun in onward:
            worth = max(worth, self._ended(begun)[0] if begun.node.kinds else begun.earned)
        return Lean(lean.kept, onward, worth, lean.last, in_word=True)

    def _between(self, lean: Lean) -> Lean:
        ended = [self._ended(begun) for begun in lean.under_way if begun.node.kinds]
        kept, last = max([(lean.kept, lean.last), *ended], key=lambda one: one[0])
        onward = tuple(
            begun._replace(node=begun.node.children[" "])
            for begun in lean.under_way
            if " " in begun.node.children
        )
        worth = max((kept, *(begun.earned for begun in onward)))
        return Lean(kept, (*onward, *self._anew(kept, last)), worth, last)

    def _anew(self, kept: float, before: str) -> tuple[Begun, ...]:
        return tuple(Begun(root, kept, nats, before) for root, nats in self._roots)

    def _ended(self, begun: Begun) -> tuple[float, str]:
        """Nats with the phrase complete, and its kind; of several kinds the likeliest here."""
        kinds = ((self._context.bonus(begun.before, kind), kind) for kind in begun.node.kinds)
        bonus, kind = max(kinds)
        return begun.earned + bonus, kind or begun.before


def _grown(phrases: Iterable[str], kinds: Mapping[str, str]) -> Node:
    root = Node()
    for phrase in phrases:
        letters = " ".join(re.findall(r"[^\W_]+(?:'[^\W_]+)*", _folded(phrase)))
        if letters:
            node = root
            for letter in letters:
                node = node.children.setdefault(letter, Node())
            node.kinds = tuple(dict.fromkeys((*node.kinds, kinds.get(phrase, ""))))
    return root


def _folded(text: str) -> str:
    return text.lower().replace("\N{RIGHT SINGLE QUOTATION MARK}", "'")
