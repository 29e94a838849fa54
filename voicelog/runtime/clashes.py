"""Phrases of the grammar in force that sound alike although they mean different things."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from voicelog.config.grammar import Grammar
from voicelog.config.phrases import Placed
from voicelog.domain.reading import TALK, Phrase
from voicelog.interpret.collisions import collisions

LEAST = 0.85
"""Likeness from which a pair is told: a few dozen in the shipped words, most of them worth a look."""

IN_CONTEXT = 0.05
"""Likeness more from which a shipped pair is told that differs in kind, and so by its context."""

_ENDINGS = frozenset(("", "s", "es", "'s", "d", "ed", "n", "en", "ing", "y", "e", "er", "ly"))
_STEM = 3
"""Letters that two forms of one word share at least."""


@dataclass(frozen=True, slots=True)
class Said:
    """One of two phrases that sound alike.

    Args:
        text: the phrase.
        meaning: its slot or word class with the value, and what else it settles.
        place: file and line.
        own: it stands in one of the shop's own files.
    """

    text: str
    meaning: str
    place: str
    own: bool


@dataclass(frozen=True, slots=True)
class Clash:
    """Two phrases that sound alike.

    Args:
        score: likeness of sound, 0 to 1.
        one: the phrase that stands first in the vocabulary.
        other: the other.
        in_context: they say different kinds of things, so that the words around them can tell.
        more: further pairs of the same two meanings that differ in the same words.
    """

    score: float
    one: Said
    other: Said
    in_context: bool
    more: int = 0

    @property
    def own(self) -> bool:
        """True when the shop itself can change one of them."""
        return self.one.own or self.other.own


def clashes(grammar: Grammar, overlays: int, least: float = LEAST) -> tuple[Clash, ...]:
    """What sounds alike, most alike first; the shop's own phrases before all others.

    Left out are pairs in which nothing is at stake (both are ordinary talk), two forms of one
    word, and phrases of which one holds the other: the longer one wins there.

    Args:
        grammar: in force.
        overlays: how many of its overlays are the shop's own.
        least: likeness from which a pair counts, 0 to 1.
    """
    shipped = sum(name.startswith("overlays/") for name in grammar.files) - overlays
    pairs = collisions(grammar.vocabulary.phrases, least)
    found = [
        _clash(one, other, score, grammar.written, shipped)
        for one, other, score in pairs
        if _at_stake(one, other) and _tells(*_differing(one.text, other.text))
    ]
    told = (clash for clash in _together(found) if _worth_telling(clash, least))
    return tuple(sorted(told, key=lambda clash: (not clash.own, -clash.score)))


def _worth_telling(clash: Clash, least: float) -> bool:
    """What the words around tell apart has to sound more alike, except in a shop's own files."""
    return clash.own or not clash.in_context or clash.score >= min(1.0, least + IN_CONTEXT)


def _clash(
    one: Phrase, other: Phrase, score: float, written: Mapping[str, Placed], shipped: int
) -> Clash:
    first = _said(one, written[one.text], shipped)
    second = _said(other, written[other.text], shipped)
    return Clash(score, first, second, in_context=one.slot != other.slot)


def _said(phrase: Phrase, placed: Placed, shipped: int) -> Said:
    there = placed.fault("")
    return Said(phrase.text, _meaning(phrase), f"{there.file}:{there.line}", placed.layer > shipped)


def _at_stake(one: Phrase, other: Phrase) -> bool:
    return not {one.slot, other.slot} <= TALK


def _differing(one: str, other: str) -> tuple[str, str]:
    """The words in which two phrases differ, those they begin and end with left out."""
    first, second = one.split(), other.split()
    while first and second and first[0] == second[0]:
        first, second = first[1:], second[1:]
    while first and second and first[-1] == second[-1]:
        first, second = first[:-1], second[:-1]
    return " ".join(first), " ".join(second)


def _tells(first: str, second: str) -> bool:
    """False where one phrase only says more, or has the same word in another form."""
    if not first or not second:
        return False
    pairs = enumerate(zip(first, second, strict=False))
    shared = next((at for at, (a, b) in pairs if a != b), min(len(first), len(second)))
    return shared < _STEM or not {first[shared:], second[shared:]} <= _ENDINGS


def _together(found: Iterable[Clash]) -> Iterator[Clash]:
    """One pair for all of the same two meanings that differ in the same words."""
    alike: dict[tuple[str, ...], list[Clash]] = {}
    for clash in found:
        words = _differing(clash.one.text, clash.other.text)
        alike.setdefault((clash.one.meaning, clash.other.meaning, *words), []).append(clash)
    for same in alike.values():
        best = max(same, key=lambda clash: (clash.own, clash.score))
        yield replace(best, more=len(same) - 1)


@dataclass(frozen=True, slots=True)
class Known:
    """Words that recognisers are known to take for others.

    Args:
        score: likeness of sound, 0 to 1.
        said: the words said.
        used_in: phrases that hold them.
        example: one of those, with its meaning.
        heard: what is heard.
        means: what that means here; empty when it means nothing.
    """

    score: float
    said: str
    used_in: int
    example: str
    heard: str
    means: str


def known(grammar: Grammar) -> tuple[Known, ...]:
    """The confusions that the grammar lists, for the words that it uses."""
    by_word: dict[str, list[Phrase]] = {}
    for phrase in grammar.vocabulary.phrases:
        if not phrase.misheard and phrase.slot not in TALK:
            for word in dict.fromkeys((phrase.text, *phrase.text.split())):
                by_word.setdefault(word, []).append(phrase)
    return tuple(
        _known(said, by_word[said], heard, grammar)
        for said, all_heard in grammar.confusions.items()
        if said in by_word
        for heard in all_heard
    )


def _known(said: str, phrases: Sequence[Phrase], heard: str, grammar: Grammar) -> Known:
    pair = Phrase(said, "said", said), Phrase(heard, "heard", heard)
    score = next((score for _, _, score in collisions(pair, 0.0)), 0.0)
    there = grammar.written.get(heard)
    shortest = min(phrases, key=lambda phrase: len(phrase.text))
    means = _meaning(there.phrase) if there is not None and not there.phrase.misheard else ""
    return Known(score, said, len(phrases), f"{shortest.text} ({_meaning(shortest)})", heard, means)


def _meaning(phrase: Phrase) -> str:
    """Slot or word class with its value, and what else the words settle."""
    first = f"{phrase.slot} {phrase.value}" if phrase.slot != phrase.value else phrase.slot
    return ", ".join((first, *(f"{slot} {value}" for slot, value in phrase.also.items())))
