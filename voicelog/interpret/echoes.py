"""Which of many phrases look and sound like some words, without looking at them all."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from voicelog.interpret.bounds import least_apart, profile
from voicelog.interpret.sounds import alike, skeleton, sounds, weight

_SHORTEST = 2
"""Classes that must be left of a skeleton: fewer are shared by half the vocabulary."""


class Echo(NamedTuple):
    """A phrase that is like the words asked for: how much so, 0 to 1, and which one it is."""

    likeness: float
    place: int


class Echoes:
    """Phrases by the skeletons of their sounds, and by those with any one class dropped.

    Two skeletons that differ by one class dropped, added or changed meet in one of these, so a
    look-up costs as many steps as the skeleton has classes, however many phrases there are; only
    the phrases met are compared in full.

    Args:
        texts: the phrases; they are known by their place in this sequence from here on.
        spelt: how each is written, for comparing letters.
    """

    def __init__(self, texts: Sequence[str], spelt: Sequence[str]) -> None:
        from rapidfuzz.fuzz import ratio

        self._ratio = ratio
        self._spelt = spelt
        self._sounds = [sounds(text) for text in texts]
        self._weights = [weight(sound) for sound in self._sounds]
        self._profiles: dict[int, int] = {}
        self._places: dict[str, list[int]] = {}
        for place, sound in enumerate(self._sounds):
            self._places.setdefault(bones(sound), []).append(place)
        self._wholes: dict[str, str] = {}  # skeletons with that part, spaced: cheaper than lists
        for whole in self._places:
            for part in parts(whole):
                self._wholes[part] = f"{self._wholes.get(part, '')} {whole}"

    def like(
        self, text: str, spelt: str, *, least: float, by_sound: float, begins: str = ""
    ) -> list[Echo]:
        """Phrases whose likeness is at least ``least``, in no order.

        Args:
            text: the words.
            spelt: the same as they are written, for comparing letters.
            least: likeness from which a phrase counts, 0 to 1.
            by_sound: share of the sound (:func:`sounds.alike`) in the likeness, over 0, to 1; the
                spelling (rapidfuzz's normalised indel similarity) has the rest.
            begins: how the phrases looked for begin; the others are passed over.
        """
        heard = sounds(text)
        heavy, mine = weight(heard), profile(heard)
        echoes = []
        for place in self._met(heard):
            other = self._spelt[place]
            if not other.startswith(begins):
                continue
            letters = (1.0 - by_sound) * self._ratio(spelt, other) / 100
            needed = (least - letters) / by_sound
            if needed > self._most_alike(heavy, mine, place):
                continue
            likeness = letters + by_sound * alike(heard, self._sounds[place], max(0.0, needed))
            if likeness >= least:
                echoes.append(Echo(likeness, place))
        return echoes

    def _most_alike(self, heavy: float, mine: int, place: int) -> float:
        """The most that a sound of such a weight and profile can be like a phrase."""
        apart = abs(heavy - self._weights[place])
        bits = self._profiles.get(place)
        if bits is None:
            bits = self._profiles[place] = profile(self._sounds[place])
        apart = max(apart, least_apart(mine, bits))
        both = heavy + self._weights[place]
        return 1.0 - 2.0 * apart / (both + apart) if both else 1.0

    def _met(self, heard: str) -> list[int]:
        wholes = " ".join([self._wholes.get(part, "") for part in parts(bones(heard))])
        return [place for whole in dict.fromkeys(wholes.split()) for place in self._places[whole]]


def bones(sound: str) -> str:
    """The skeleton; a dash for a sound without one, such as that of "hour"."""
    return skeleton(sound) or "-"


def parts(whole: str) -> list[str]:
    """A skeleton and every way to drop one class of it."""
    if len(whole) <= _SHORTEST:
        return [whole]
    return [whole, *[whole[:i] + whole[i + 1 :] for i in range(len(whole))]]
