"""The sentences of a warm-up, made of the grammar in force.

Place, fault and a detail at a time, chosen so that few sentences hold many of the words that an
inspection uses. Every sentence is read first: only one that makes the entry it was made for is used.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from itertools import cycle
from random import Random

from voicelog.config.grammar import Grammar
from voicelog.domain.heard import Heard
from voicelog.domain.reading import Act, Reading, Statement
from voicelog.domain.slot import MEASURE_SLOTS, Slots
from voicelog.domain.zone import Layout
from voicelog.errors import InputFault
from voicelog.interpret.reader import Reader
from voicelog.runtime.warm_up_parts import LENGTH, SHARE, Part, faults, places, sides, weights
from voicelog.tongue import worded

COUNT = 24
"""Sentences of one round: two minutes at five seconds each."""

_MOST_WORDS = 10
"""Words of a sentence; a longer one is read off haltingly."""

_NUMBER = 2.0
"""What a word of a number is worth; the words of names are worth 0.7 to 12."""


@dataclass(frozen=True, slots=True)
class Sense:
    """What a statement says, less its words and its doubts.

    Args:
        act: what it does.
        slots: what it says.
        clear: the place was called clean, solid or the like.
        absent: conditions said not to be there.
    """

    act: Act
    slots: Slots
    clear: bool = False
    absent: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Prompt:
    """A sentence to be said.

    Args:
        text: its words.
        wanted: how it reads when every word is heard.
    """

    text: str
    wanted: tuple[Sense, ...]


def sense_of(reading: Reading) -> tuple[Sense, ...]:
    """What a reading says; remarks beside it change nothing and are left out."""
    return tuple(_sense(made) for made in reading.statements if made.act is not Act.REMARK)


def prompts_of(texts: Iterable[str], reader: Reader) -> tuple[Prompt, ...]:
    """Sentences of somebody's own.

    Raises:
        InputFault: one of them says nothing, so that nobody could tell whether it was understood.
    """
    prompts = tuple(Prompt(text, sense_of(reader.read(Heard.typed(text)))) for text in texts)
    empty = next((prompt.text for prompt in prompts if not prompt.wanted), None)
    if empty is not None:
        raise InputFault(
            worded("{sentence} makes no entry when it is read", sentence=repr(empty)),
            worded(
                "Name a place and what is wrong there; voicelog read shows how words are understood"
            ),
        )
    return prompts


def choose_prompts(
    grammar: Grammar, reader: Reader, *, count: int = COUNT, seed: int = 1
) -> tuple[Prompt, ...]:
    """Sentences that hold as many different words of the grammar as possible.

    Greedy: the place and the fault with the most that was not said yet come next. Words that many
    short names share weigh more, and those known to be confused twice as much.

    Args:
        grammar: in force.
        reader: of that grammar.
        count: how many; fewer when the grammar gives no more.
        seed: decides between equals; the same gives the same sentences.
    """
    chooser = _Chooser(grammar, Random(seed))
    prompts: list[Prompt] = []
    for text, parts in chooser.sentences():
        if len(prompts) == count:
            break
        reading = reader.read(Heard.typed(text))
        if _as_made(reading, parts):
            prompts.append(Prompt(text, sense_of(reading)))
            chooser.was_said(text)
    return tuple(prompts)


class _Chooser:
    """Puts sentences together, and knows what was said already."""

    def __init__(self, grammar: Grammar, random: Random) -> None:
        self._weights = weights(grammar)
        self._said: Counter[str] = Counter()
        self._used: Counter[str] = Counter()
        self._places = _shuffled(places(grammar, self._weights), random)
        self._faults = _shuffled(faults(grammar, self._weights), random)
        self._sides = cycle(_shuffled(sides(grammar), random))
        self._paired = {z.id for z in grammar.zone_map.zones.values() if z.layout is Layout.PAIR}

    def sentences(self) -> Iterator[tuple[str, tuple[Part, Part]]]:
        """The best parts together, as long as there are faults; each of those comes once only."""
        left = list(self._faults)
        while left and self._places:
            place = self._with_side(max(self._places, key=self._worth))
            fault = max(left, key=self._worth)
            left.remove(fault)
            self._used.update((place.of, fault.of, fault.detail))
            text = f"{place.text}, {fault.text}"
            if len(text.split()) <= _MOST_WORDS:
                yield text, (place, fault)

    def was_said(self, text: str) -> None:
        """Its words count for less from now on."""
        self._said.update(_words(text))

    def _worth(self, part: Part) -> float:
        """What its words bring; a word, meaning or kind of detail that was said before brings less."""
        words = _words(part.text)
        gain = sum(self._weights.get(word, _NUMBER) / 4 ** self._said[word] for word in words)
        spent = 2 ** self._used[part.of] * 1.4 ** self._used[part.detail]
        return float(gain / len(words) ** 0.5 / spent)

    def _with_side(self, place: Part) -> Part:
        """Left and right in turn, where there are two of it."""
        side = next(self._sides, None) if place.of in self._paired else None
        if side is None:
            return place
        return Part(f"{side.text} {place.text}", {**place.slots, **side.slots}, place.of)


def _as_made(reading: Reading, parts: Iterable[Part]) -> bool:
    """One entry without doubt, with every slot that the parts settle, and their number if any."""
    if len(reading.statements) != 1:
        return False
    made = reading.statements[0]
    wanted = {name: value for part in parts for name, value in part.slots.items()}
    as_wanted = all(made.slots.get(name) == value for name, value in wanted.items())
    counted = any(part.detail in (LENGTH, SHARE) for part in parts)
    measured = any(name in made.slots for name in MEASURE_SLOTS)
    return _is_entry(made) and as_wanted and counted == measured


def _is_entry(made: Statement) -> bool:
    return made.act is Act.REPORT and not made.doubts and not made.questions


def _sense(made: Statement) -> Sense:
    return Sense(made.act, dict(made.slots), made.clear, made.absent)


def _words(text: str) -> list[str]:
    return text.replace(",", "").split()


def _shuffled(parts: Iterable[Part], random: Random) -> list[Part]:
    """In an order of the seed's, which decides between parts of the same worth."""
    found = list(parts)
    random.shuffle(found)
    return found
