"""The best ways to cut an utterance into phrases and numbers, by dynamic programming."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field

from voicelog.domain.reading import Speech
from voicelog.interpret.matcher import Matcher, Sentence
from voicelog.interpret.measures import Measure, measure_at
from voicelog.interpret.tokens import Token

PATHS = 4
"""Ways to cut that are kept at each word."""

_SKIPPED = -0.35
"""Worth of a word that no phrase explains."""

_LIGHT = {"relation": 0.95, "filler": 0.3, "join": 0.35, "ignore": 0.97}
"""Worth of a word of these classes; of any other phrase 1."""

_SAYS_NOTHING = ("filler", "unknown")
"""Classes that two covers may differ in and still mean the same."""

_CROSSING = 0.08
"""Score lost by a phrase that punctuation runs through."""

_LENGTH_BONUS = 0.12
"""Worth of each further word of one phrase: longer phrases say more."""


@dataclass(frozen=True, slots=True)
class Item:
    """A run of tokens taken as one thing.

    Args:
        slot: the phrase's slot or word class, ``measure`` for a number, ``unknown`` for a word
            that nothing explains.
        value: the phrase's value.
        start: index of its first token.
        end: index after its last token.
        score: how well it fits, 0 to 1.
        also: further slots the phrase settles.
        measure: the number, for a measure.
        text: its words.
        stop: punctuation right after it.
        weight: its words, small ones aside.
    """

    slot: str
    value: str
    start: int
    end: int
    score: float = 1.0
    also: Mapping[str, str] = field(default_factory=dict)
    measure: Measure | None = None
    text: str = ""
    stop: str = ""
    weight: int = 1


@dataclass(frozen=True, slots=True)
class Cover:
    """One way to cut an utterance.

    Args:
        items: in order, every token in exactly one.
        total: what it is worth; comparable between covers of the same tokens.
    """

    items: tuple[Item, ...]
    total: float


class _Way:
    """One way to cut the words up to some point: a linked list, so that ways share beginnings."""

    __slots__ = ("before", "item", "meaning", "total")

    def __init__(self, before: _Way | None, item: Item | None, total: float, meaning: int) -> None:
        self.before, self.item, self.total, self.meaning = before, item, total, meaning

    def then(self, item: Item, worth: float) -> _Way:
        """This way with one more item."""
        meaning = self.meaning
        if item.slot not in _SAYS_NOTHING:
            meaning = hash((meaning, item.slot, item.value))
        return _Way(self, item, self.total + worth, meaning)

    def items(self) -> tuple[Item, ...]:
        """Its items in order."""
        found: list[Item] = []
        way: _Way | None = self
        while way is not None and way.item is not None:
            found.append(way.item)
            way = way.before
        return tuple(reversed(found))


def covers(tokens: Sequence[Token], matcher: Matcher, speech: Speech) -> tuple[Cover, ...]:
    """The best ways to cut the tokens, best first, each meaning once."""
    best: list[list[_Way]] = [[_Way(None, None, 0.0, 0)]] + [[] for _ in tokens]
    said = matcher.sentence(tokens)
    for start in range(len(tokens)):
        best[start] = _distinct(best[start])
        for item, worth in _candidates(tokens, said, start, matcher, speech):
            best[item.end].extend([way.then(item, worth) for way in best[start]])
    return tuple(Cover(way.items(), way.total) for way in _distinct(best[-1]))


def _distinct(ways: list[_Way]) -> list[_Way]:
    """The best of them, those that mean the same only once."""
    kept: dict[int, _Way] = {}
    for way in sorted(ways, key=lambda way: -way.total):
        kept.setdefault(way.meaning, way)
        if len(kept) == PATHS:
            break
    return list(kept.values())


def _candidates(
    tokens: Sequence[Token], said: Sentence, start: int, matcher: Matcher, speech: Speech
) -> Iterator[tuple[Item, float]]:
    words, stop = said.words, tokens[start].stop
    yield Item("unknown", "", start, start + 1, 0.0, text=words[start], stop=stop), _SKIPPED
    measure = measure_at(words[: _next_stop(said.stops, start)], start, speech)
    if measure is not None:
        yield _measured(tokens, measure)
    for end, crossed, match in matcher.starting(said, start):
        score = match.score - (_CROSSING if crossed else 0.0)
        phrase = match.phrase
        item = Item(
            phrase.slot, phrase.value, start, end, score, phrase.also,
            text=" ".join(words[start:end]), stop=tokens[end - 1].stop,
            weight=max(1, end - start - sum(said.light[start:end])),
        )  # fmt: skip
        yield item, _worth(phrase.slot, end - start, score)


def _measured(tokens: Sequence[Token], measure: Measure) -> tuple[Item, float]:
    start, end = measure.start, measure.end
    score = 0.8 if any(token.heard for token in tokens[start:end]) else 1.0
    item = Item(
        "measure", f"{measure.quantity} {measure.value:g}", start, end, score, measure=measure,
        text=" ".join(token.heard or token.text for token in tokens[start:end]),
        stop=tokens[end - 1].stop,
    )  # fmt: skip
    return item, 0.95 * (end - start) + _LENGTH_BONUS * (end - start - 1)


def _worth(slot: str, words: int, score: float) -> float:
    light = _LIGHT.get(slot, 1.0)
    misfit = 2.0 * (1.0 - score)
    return words * light * score + _LENGTH_BONUS * (words - 1) - misfit


def _next_stop(stops: Sequence[bool], start: int) -> int:
    """Index after the token that the next punctuation follows: no number reaches across it."""
    return next((at + 1 for at in range(start, len(stops)) if stops[at]), len(stops))
