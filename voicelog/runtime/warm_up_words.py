"""What a warm-up tells about words: which are taken for which, and what to say instead."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from voicelog.domain.reading import Phrase, Vocabulary
from voicelog.runtime.warm_up_takes import Take, words_of

_MOST_WAYS = 3
"""Other ways to say something that are told; more would not be read."""


@dataclass(frozen=True, slots=True)
class Confusion:
    """Words that were taken for others.

    Args:
        said: the words.
        heard: what was heard; empty when nothing was.
        times: how often.
        sentences: those in which it happened.
        harmless: how many of those read right all the same.
    """

    said: str
    heard: str
    times: int
    sentences: tuple[str, ...]
    harmless: int


@dataclass(frozen=True, slots=True)
class Missed:
    """A word that was never heard right.

    Args:
        word: it.
        times: how often it was said.
        instead: other ways to say the same, of words that were all heard right.
    """

    word: str
    times: int
    instead: tuple[str, ...]


def confusions(takes: Iterable[Take]) -> tuple[Confusion, ...]:
    """What was taken for what, the most frequent first; sentences hardly heard aside."""
    found: dict[tuple[str, str], list[Take]] = {}
    for take in takes:
        if not take.other_words:
            for pair in take.pairs:
                if pair.said and not pair.alike:
                    found.setdefault((pair.said, pair.heard), []).append(take)
    told = (_confusion(said, heard, where) for (said, heard), where in found.items())
    return tuple(sorted(told, key=lambda one: (one.harmless - one.times, -one.times, one.said)))


def never_right(takes: Sequence[Take], vocabulary: Vocabulary) -> tuple[Missed, ...]:
    """Words said and not once heard right, those said most often first."""
    heard_of = [take for take in takes if not take.other_words]
    right = Counter(pair.said for take in heard_of for pair in take.pairs if pair.alike)
    wrong = Counter(word for take in heard_of for word in _wrong(take))
    sure = frozenset(right) - frozenset(wrong)
    missed = (
        Missed(word, times, _instead(word, heard_of, vocabulary, sure))
        for word, times in wrong.items()
        if word not in right
    )
    return tuple(sorted(missed, key=lambda one: (-one.times, one.word)))


def _confusion(said: str, heard: str, where: Sequence[Take]) -> Confusion:
    sentences = tuple(dict.fromkeys(take.prompt.text for take in where))
    return Confusion(said, heard, len(where), sentences, sum(take.right for take in where))


def _wrong(take: Take) -> Iterator[str]:
    for pair in take.pairs:
        if not pair.alike:
            yield from pair.said.split()


def _instead(
    word: str, takes: Iterable[Take], vocabulary: Vocabulary, sure: frozenset[str]
) -> tuple[str, ...]:
    """Phrases of the same meaning as one that the word belongs to, of words heard right only."""
    said = {take.prompt.text: words_of(take.prompt.text) for take in takes}
    meant = [
        phrase
        for phrase in vocabulary.phrases
        if word in phrase.text.split() and any(_holds(words, phrase) for words in said.values())
    ]
    longest = max((len(phrase.text) for phrase in meant), default=0)
    meanings = {_meaning(phrase) for phrase in meant if len(phrase.text) == longest}
    ways = (
        phrase.text
        for phrase in vocabulary.phrases
        if not phrase.misheard
        and _meaning(phrase) in meanings
        and sure.issuperset(phrase.text.split())
    )
    return tuple(sorted(ways, key=len)[:_MOST_WAYS])


def _holds(words: Sequence[str], phrase: Phrase) -> bool:
    return f" {phrase.text} " in f" {' '.join(words)} "


def _meaning(phrase: Phrase) -> tuple[str, str, tuple[tuple[str, str], ...]]:
    return phrase.slot, phrase.value, tuple(sorted(phrase.also.items()))
