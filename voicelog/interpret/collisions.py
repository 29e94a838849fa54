"""Which phrases of a vocabulary sound alike although they mean different things?"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from voicelog.domain.reading import Phrase
from voicelog.interpret.echoes import Echoes


def collisions(phrases: Sequence[Phrase], least: float) -> tuple[tuple[Phrase, Phrase, float], ...]:
    """Pairs of spoken phrases with different meanings that sound alike, most alike first.

    Two phrases of one text (a word of two classes) are no pair, since words tell them apart no
    more than sound does; nor are a phrase and its own known mishearing.

    Args:
        phrases: the vocabulary's phrases; known mishearings among them are left out.
        least: likeness of sound (:func:`sounds.alike`, 0 to 1) from which a pair counts; the
            shipped vocabulary has about 25 pairs at 0.9, 90 at 0.85, 250 at 0.8, 550 at 0.75.

    Returns:
        Each pair once, in the vocabulary's order within itself, with its likeness.
    """
    spoken = [phrase for phrase in phrases if not phrase.misheard]
    pairs = sorted(_pairs(spoken, least), key=lambda pair: (-pair[2], pair[0].text, pair[1].text))
    return tuple(pairs)


def _pairs(spoken: Sequence[Phrase], least: float) -> Iterator[tuple[Phrase, Phrase, float]]:
    texts = [phrase.text for phrase in spoken]
    echoes = Echoes(texts, texts)
    for place, phrase in enumerate(spoken):
        for likeness, after in echoes.like(phrase.text, phrase.text, least=least, by_sound=1.0):
            if after > place and _differ(phrase, spoken[after]):
                yield phrase, spoken[after], round(likeness, 4)


def _differ(one: Phrase, other: Phrase) -> bool:
    meanings = ((each.slot, each.value, dict(each.also)) for each in (one, other))
    return one.text != other.text and next(meanings) != next(meanings)
