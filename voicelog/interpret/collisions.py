"""Which phrases of a vocabulary sound alike although they mean different things?"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from itertools import combinations, product
from typing import NamedTuple

from voicelog.domain.reading import Phrase
from voicelog.interpret.bounds import least_apart, profile
from voicelog.interpret.echoes import bones, parts
from voicelog.interpret.sounds import alike, sounds, weight


class _Sound(NamedTuple):
    """A sound with what bounds its distances, and the phrases that have it, by their places."""

    sound: str
    weight: float
    profile: int
    places: list[int]


def collisions(phrases: Sequence[Phrase], least: float) -> tuple[tuple[Phrase, Phrase, float], ...]:
    """Pairs of spoken phrases with different meanings that sound alike, most alike first.

    Two phrases of one text (a word of two classes) are no pair, since words tell them apart no
    more than sound does; nor are a phrase and its own known mishearing. Only sounds whose skeletons
    are the same, or differ by one class, are compared.

    Args:
        phrases: the vocabulary's phrases; known mishearings among them are left out.
        least: likeness of sound (:func:`sounds.alike`, 0 to 1) from which a pair counts; the
            shipped vocabulary has about 100 pairs at 0.9, 460 at 0.85, 1270 at 0.8, 2900 at 0.75.

    Returns:
        Each pair once, in the vocabulary's order within itself, with its likeness.
    """
    spoken = [phrase for phrase in phrases if not phrase.misheard]
    pairs = [
        (spoken[min(place, other)], spoken[max(place, other)], round(likeness, 4))
        for place, other, likeness in _alike(spoken, least)
        if _differ(spoken[place], spoken[other])
    ]
    return tuple(sorted(pairs, key=lambda pair: (-pair[2], pair[0].text, pair[1].text)))


def _alike(spoken: Sequence[Phrase], least: float) -> Iterator[tuple[int, int, float]]:
    """Places of phrases that sound alike, whatever they mean, and how alike."""
    groups = _by_bones(spoken)
    for group in groups.values():
        for one in group:
            yield from ((*pair, 1.0) for pair in combinations(one.places, 2))
    for one, other in _near(groups, least):
        likeness = alike(one.sound, other.sound, least)
        if likeness >= least:
            yield from ((*pair, likeness) for pair in product(one.places, other.places))


def _by_bones(spoken: Sequence[Phrase]) -> dict[str, list[_Sound]]:
    """Each sound once, under its skeleton."""
    places: dict[str, list[int]] = {}
    for place, phrase in enumerate(spoken):
        places.setdefault(sounds(phrase.text), []).append(place)
    groups: dict[str, list[_Sound]] = {}
    for sound, having in places.items():
        made = _Sound(sound, weight(sound), profile(sound), having)
        groups.setdefault(bones(sound), []).append(made)
    return groups


def _near(groups: dict[str, list[_Sound]], least: float) -> Iterator[tuple[_Sound, _Sound]]:
    """Pairs of different sounds that may be alike, after what costs next to nothing to know."""
    share = (1.0 - least) / (1.0 + least)
    for first, second in _meeting(groups):
        pairs = (
            combinations(groups[first], 2)
            if first == second
            else product(groups[first], groups[second])
        )
        for one, other in pairs:
            most = share * (one.weight + other.weight)
            if (
                abs(one.weight - other.weight) <= most
                and least_apart(one.profile, other.profile) <= most
            ):
                yield one, other


def _meeting(wholes: Iterable[str]) -> set[tuple[str, str]]:
    """Pairs of skeletons that share a part, each with itself too."""
    having: dict[str, list[str]] = {}
    for whole in wholes:
        for part in set(parts(whole)):
            having.setdefault(part, []).append(whole)
    return {
        (first, second)
        for sharing in having.values()
        for at, first in enumerate(sharing)
        for second in sharing[at:]
    }


def _differ(one: Phrase, other: Phrase) -> bool:
    meanings = ((each.slot, each.value, dict(each.also)) for each in (one, other))
    return one.text != other.text and next(meanings) != next(meanings)
