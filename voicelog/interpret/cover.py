"""The best ways to cut an utterance into phrases and numbers, by dynamic programming."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field

from voicelog.domain.reading import Speech
from voicelog.interpret.lexicon import LONGEST_PHRASE, Lexicon
from voicelog.interpret.measures import Measure, measure_at
from voicelog.interpret.tokens import Token

PATHS = 4
"""Ways to cut that are kept at each word."""

_SKIPPED = -0.35
"""Worth of a word that no phrase explains."""

_LIGHT = {"filler": 0.3, "join": 0.35, "ignore": 0.75}
"""Worth of a word of these classes; of any other phrase 1."""

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


@dataclass(frozen=True, slots=True)
class Cover:
    """One way to cut an utterance.

    Args:
        items: in order, every token in exactly one.
        total: what it is worth; comparable between covers of the same tokens.
    """

    items: tuple[Item, ...]
    total: float

    def meaning(self) -> tuple[tuple[str, str], ...]:
        """What it says, without fillers: two covers that agree here mean the same."""
        return tuple(
            (item.slot, item.value) for item in self.items if item.slot not in ("filler", "unknown")
        )


def covers(tokens: Sequence[Token], lexicon: Lexicon, speech: Speech) -> tuple[Cover, ...]:
    """The best ways to cut the tokens, best first, each meaning once."""
    words = [token.text for token in tokens]
    best: list[list[tuple[float, tuple[Item, ...]]]] = [[(0.0, ())]]
    starts: list[list[tuple[int, Item, float]]] = [[] for _ in range(len(tokens) + 1)]
    for start in range(len(tokens)):
        for item, worth in _candidates(tokens, words, start, lexicon, speech):
            starts[item.end].append((start, item, worth))
    for end in range(1, len(tokens) + 1):
        ways = [
            (total + worth, (*items, item))
            for start, item, worth in starts[end]
            for total, items in best[start]
        ]
        ways.sort(key=lambda way: -way[0])
        best.append(_distinct(ways))
    return tuple(Cover(items, total) for total, items in best[-1])


def _distinct(ways: list[tuple[float, tuple[Item, ...]]]) -> list[tuple[float, tuple[Item, ...]]]:
    kept: list[tuple[float, tuple[Item, ...]]] = []
    seen: set[tuple[tuple[str, str], ...]] = set()
    for total, items in ways:
        meaning = Cover(items, total).meaning()
        if meaning not in seen:
            seen.add(meaning)
            kept.append((total, items))
        if len(kept) == PATHS:
            break
    return kept


def _candidates(
    tokens: Sequence[Token], words: list[str], start: int, lexicon: Lexicon, speech: Speech
) -> Iterator[tuple[Item, float]]:
    stop = tokens[start].stop
    yield Item("unknown", "", start, start + 1, 0.0, text=words[start], stop=stop), _SKIPPED
    measure = measure_at(words[: _next_stop(tokens, start)], start, speech)
    if measure is not None:
        yield _measured(tokens, words, measure)
    for end in range(start + 1, min(len(tokens), start + LONGEST_PHRASE) + 1):
        run = words[start:end]
        inner_stop = _crosses_stop(tokens, start, end)
        matches = lexicon.exact(run)
        if not matches and not inner_stop and _strange(run, lexicon):
            matches = lexicon.near(run)
        for match in matches:
            score = match.score - (0.08 if inner_stop else 0.0)
            phrase = match.phrase
            item = Item(
                phrase.slot, phrase.value, start, end, score, phrase.also,
                text=" ".join(run), stop=tokens[end - 1].stop,
            )  # fmt: skip
            yield item, _worth(phrase.slot, end - start, score)


def _measured(tokens: Sequence[Token], words: list[str], measure: Measure) -> tuple[Item, float]:
    start, end = measure.start, measure.end
    item = Item(
        "measure", f"{measure.quantity} {measure.value:g}", start, end, measure=measure,
        text=" ".join(words[start:end]), stop=tokens[end - 1].stop,
    )  # fmt: skip
    return item, 0.95 * (end - start) + _LENGTH_BONUS * (end - start - 1)


def _worth(slot: str, words: int, score: float) -> float:
    light = _LIGHT.get(slot, 1.0)
    misfit = 2.0 * (1.0 - score)
    return words * light * score + _LENGTH_BONUS * (words - 1) - misfit


def _strange(run: Sequence[str], lexicon: Lexicon) -> bool:
    """Likeness is tried only where some word is not one of ours."""
    return len(run) <= 5 and any(not lexicon.knows(word) for word in run)


def _next_stop(tokens: Sequence[Token], start: int) -> int:
    """Index after the token that the next punctuation follows: no number reaches across it."""
    return next((i + 1 for i in range(start, len(tokens)) if tokens[i].stop), len(tokens))


def _crosses_stop(tokens: Sequence[Token], start: int, end: int) -> bool:
    return any(token.stop for token in tokens[start : end - 1])
