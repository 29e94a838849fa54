"""What a picker offers for a slot while somebody types: by spelling, and by sound."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from voicelog.domain.reading import Speech, Vocabulary
from voicelog.domain.slot import CONDITIONS
from voicelog.domain.zone import ZoneMap
from voicelog.interpret.echoes import Echoes
from voicelog.interpret.lexicon import key
from voicelog.interpret.slot_words import meanings, slot_named, values_of, words_of

MOST = 12
"""Choices for something typed, if not told otherwise."""
_LONGEST_TYPED = 60
"""Characters that are looked for; the longest phrase has fewer."""
_SAID = 3
"""Spoken names told of each choice."""

_OWN, _SPOKEN, _SHARED, _MISHEARD = 1.0, 0.97, 0.95, 0.93
"""What a find is worth in an id or title, in a spoken name, in one that several zones share, and
in what recognisers make of one."""
_BEGINS, _HOLDS, _FILLED = 0.82, 0.72, 0.15
"""Score of a name that begins with what was typed, and of one whose words do; a name that is all of
it gets as much more as the last of them."""
_LIKE, _PART, _SOUNDS = 0.9, 0.75, 0.95
"""Score of the same spelling, of the same within a longer name, and of the same sound."""
_LEAST_LIKE, _LEAST_PART, _LEAST_SOUND = 62.0, 80.0, 0.65
"""Likeness from which these count: by rapidfuzz, 0 to 100; by sound and spelling, 0 to 1."""
_BY_SOUND = 0.9
"""Share of the sound, as for words that are real ones (``Lexicon.sounds_like``)."""
_SHORTEST_LIKE = 3
"""Letters below which likeness means nothing."""


@dataclass(frozen=True, slots=True)
class Choice:
    """A value that a picker offers.

    Args:
        value: what the slot would hold.
        title: the same for people.
        said: some of its spoken names, the one that was found first; that may be one that it
            shares with other values ("rail").
        score: how well it fits what was typed, 0 to 1; 1 where nothing was typed.
    """

    value: str
    title: str
    said: tuple[str, ...]
    score: float


@dataclass(frozen=True, slots=True)
class _Name:
    """One thing that values are called, and what finding it is worth."""

    text: str
    values: tuple[str, ...]
    worth: float


class Picker:
    """Choices for the slots of one vocabulary and map; each slot's index is made when first asked.

    Args:
        vocabulary: every phrase, the map's zone names included.
        zone_map: the places of the vehicle.
        conditions: what can be found.
        speech: how this person's words are to be taken ("driver side").
    """

    def __init__(
        self,
        vocabulary: Vocabulary,
        zone_map: ZoneMap,
        *,
        conditions: Sequence[str] = CONDITIONS,
        speech: Speech = Speech(),
    ) -> None:
        self._vocabulary, self._zone_map = vocabulary, zone_map
        self._conditions, self._speech = conditions, speech
        self._shelves: dict[str, _Shelf] = {}

    def choices(
        self, slot: str, typed: str = "", *, limit: int = MOST, here: str | None = None
    ) -> tuple[Choice, ...]:
        """What to offer, best first; nothing for a slot of numbers or text.

        Args:
            slot: its name.
            typed: what was typed so far. Without a word in it every value is offered, in the order of
                the map or of the closed list.
            limit: choices for something typed at most.
            here: the value in hand; of equally good choices those nearest to it in that order, such
                as the next rail, come first.

        Raises:
            UsageFault: there is no such slot.
        """
        shelf = self._shelf(slot_named(slot))
        words = words_of(typed[:_LONGEST_TYPED])
        return shelf.found(words, here)[:limit] if words else shelf.all()

    def _shelf(self, slot: str) -> _Shelf:
        if slot not in self._shelves:
            titles = values_of(slot, self._zone_map, self._conditions)
            self._shelves[slot] = _Shelf(titles, tuple(self._names(slot, titles)))
        return self._shelves[slot]

    def _names(self, slot: str, titles: dict[str, str]) -> Iterator[_Name]:
        for value, title in titles.items():
            for text in dict.fromkeys(" ".join(words_of(name)) for name in (title, value)):
                yield _Name(text, (value,), _OWN)
        if not titles:
            return
        for meaning in meanings(slot, self._vocabulary, self._zone_map, self._speech):
            values = tuple(value for value in meaning.values if value in titles)
            worth = _SPOKEN if len(values) == 1 else _SHARED
            yield _Name(meaning.text, values, _MISHEARD if meaning.misheard else worth)


class _Shelf:
    """The values of one slot and everything they are called, ready to be searched."""

    def __init__(self, titles: dict[str, str], names: tuple[_Name, ...]) -> None:
        self._titles, self._names = titles, names
        self._order = {value: at for at, value in enumerate(titles)}
        self._texts = [name.text for name in names]
        self._spaced = [f" {text}" for text in self._texts]
        self._own = [name.text for name in names if name.worth == _OWN]  # they come first
        self._keys = [key(text.split()) for text in self._texts]
        self._echoes = Echoes(self._texts, self._keys)
        self._said: dict[str, list[str]] = {value: [] for value in titles}
        for name in names:
            if name.worth == _SPOKEN:
                self._said[name.values[0]].append(name.text)

    def all(self) -> tuple[Choice, ...]:
        """Every value in its order."""
        return tuple(self._choice(value, "", 1.0) for value in self._titles)

    def found(self, words: Sequence[str], here: str | None) -> tuple[Choice, ...]:
        """The values that the words may mean, best first."""
        best: dict[str, tuple[float, str]] = {}
        for at, score in self._scores(words):
            name = self._names[at]
            for value in name.values:
                if score * name.worth > best.get(value, (0.0, ""))[0]:
                    spoken = name.worth in (_SPOKEN, _SHARED)
                    best[value] = score * name.worth, name.text if spoken else ""
        offered = [self._choice(value, text, score) for value, (score, text) in best.items()]
        middle = self._order.get(here, 0) if here is not None else 0
        return tuple(sorted(offered, key=lambda c: (-c.score, abs(self._order[c.value] - middle))))

    def _choice(self, value: str, found: str, score: float) -> Choice:
        said = dict.fromkeys([found, *self._said[value][:_SAID]] if found else self._said[value])
        return Choice(value, self._titles[value], tuple(said)[:_SAID], round(score, 3))

    def _scores(self, words: Sequence[str]) -> Iterator[tuple[int, float]]:
        """Names that fit, by their places, each as often as there are ways in which it does."""
        typed, spelt = " ".join(words), key(words)
        yield from self._begun(words, typed, spelt)
        if len(spelt) >= _SHORTEST_LIKE:
            yield from self._alike(typed)
            for echo in self._echoes.like(typed, spelt, least=_LEAST_SOUND, by_sound=_BY_SOUND):
                yield echo.place, _SOUNDS * echo.likeness

    def _begun(self, words: Sequence[str], typed: str, spelt: str) -> Iterator[tuple[int, float]]:
        """Names with words that begin so, in any order."""
        first, *rest = [f" {word}" for word in words]
        for at, text in enumerate(self._spaced):
            if first in text and all(word in text for word in rest):
                score = _BEGINS if text.startswith(typed, 1) else _HOLDS
                whole = self._keys[at] == spelt
                yield at, 1.0 if whole else score + _FILLED * len(typed) / len(text)

    def _alike(self, typed: str) -> Iterator[tuple[int, float]]:
        """Names spelled nearly so, and ids and titles with a part that is."""
        from rapidfuzz import fuzz, process  # not before somebody types

        found = process.extract(
            typed, self._texts, scorer=fuzz.ratio, score_cutoff=_LEAST_LIKE, limit=None
        )
        yield from ((at, _LIKE * likeness / 100) for _, likeness, at in found)
        parts = process.extract(
            typed, self._own, scorer=fuzz.partial_ratio, score_cutoff=_LEAST_PART, limit=None
        )
        yield from ((at, _PART * likeness / 100) for _, likeness, at in parts)


def choices(
    slot: str,
    typed: str,
    zone_map: ZoneMap,
    vocabulary: Vocabulary,
    *,
    limit: int = MOST,
    conditions: Sequence[str] = CONDITIONS,
    here: str | None = None,
) -> tuple[Choice, ...]:
    """The same once; whoever asks at every keystroke keeps a :class:`Picker`.

    Raises:
        UsageFault: there is no such slot.
    """
    picker = Picker(vocabulary, zone_map, conditions=conditions)
    return picker.choices(slot, typed, limit=limit, here=here)
