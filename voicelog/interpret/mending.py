"""A second look at a sentence that lacks something: what may its odd words have been?

Reading takes words at their face value first. Where that leaves a place without a fault, a fault
without a place, a mounting of which there are two without a side, or "the rail" without an end, the
words that nothing explained are compared by sound with the phrases of the missing kind: "left front
rain, surface rust" lacks a place, and "front rain" sounds like one. A sentence that lacks
nothing keeps all that was understood of it, and talk is never touched, so that "rest" in chatter
stays what it is. What is taken so is scored low enough to be weighed as a sign of doubt.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from voicelog.domain.zone import ZoneMap
from voicelog.interpret.classes import DESCRIBING, LABELS, PLACES, QUIET, SIDES
from voicelog.interpret.cover import Cover, Item
from voicelog.interpret.matcher import Matcher
from voicelog.interpret.odd_ends import LEAST_SIDE, ended, sided
from voicelog.interpret.parted import rejoined
from voicelog.interpret.scope import apart
from voicelog.interpret.spans import (
    Span,
    has_end,
    has_unknown,
    is_light,
    is_to_the_point,
    odd_spans,
    stands_near,
)

_TALK = frozenset(("address", "question", "hypothetical", "tag"))
_REPORTING = frozenset((*DESCRIBING, *PLACES, "measure"))
"""Talk is never touched, nor is what reports nothing."""
_STEERING = ("correction", "same", "another", "photo", "not-seen", "amend", "spell")
_MEASURED = ("thickness_mm", "loss_percent")
"""Acts, and numbers by their labels, that say enough of a place without a fault."""
_IN_NAMES = ("end", "part", "face", "label")
"""Classes whose words a misheard name of a place may hold."""
_STATES = ("condition", "clear", "probe", "rot")
"""What an odd word may be taken for."""

_MOST = 0.85
"""Score at most of a word taken by its sound: under the reader's limit for doubt."""
_LEAST_LONGER = 0.73
"""The same of a name that is longer than the one understood."""
_FURTHER = 0.1
"""Worth of each further item that the guess of a name explains."""
_LEAST_ZONE, _LEAST_NAME, _LEAST_STATE, _LEAST_END = 0.68, 0.74, 0.66, 0.72
"""Lowest scores (0.9 is exactly the same sound) at which the missing kind is taken."""


@dataclass(frozen=True, slots=True)
class _Guess:
    """What the items of a span may be, as one."""

    span: Span
    item: Item


class Mender:
    """Looks again with one vocabulary and one map."""

    def __init__(self, matcher: Matcher, zone_map: ZoneMap) -> None:
        self._matcher = matcher
        self._map = zone_map

    def mended(self, cover: Cover) -> Cover:
        """The cover with what it lacks, where its odd words sound like it; else the same."""
        runs = [self._run(rejoined(run, self._matcher)) for run in apart(cover.items)]
        return Cover(tuple(item for run in runs for item in run), cover.total)

    def _run(self, run: list[Item]) -> list[Item]:
        slots = {item.slot for item in run}
        if slots & _TALK or not slots & _REPORTING:
            return run
        placed = self._place(self._end(self._longer(run)))
        return sided(self._state(placed), self._matcher, self._map)

    def _longer(self, items: list[Item]) -> list[Item]:
        """ "Strong box mount": a longer name that ends with the one that was understood."""
        for at in range(1, len(items)):
            if items[at].slot == "zone" and self._may_begin(items[at - 1]):
                run = items[at - 1 : at + 1]
                longer = self._sounding(run, ("zone",), _LEAST_LONGER, ends=items[at].text)
                other = next((one for one in longer if one.value != items[at].value), None)
                if other is not None:
                    return _with(items, _Guess(Span(at - 1, at + 1), other))
        return items

    def _may_begin(self, odd: Item) -> bool:
        """A word that may be the misheard beginning of a name, and no side before it."""
        if odd.slot not in QUIET or is_light(odd) or odd.stop:
            return False
        return self._matcher.side_sounding(odd.text, LEAST_SIDE) is None

    def _end(self, items: list[Item]) -> list[Item]:
        """ "Where spring hanger", "mud rail": the word before a name that several zones share."""
        for at in range(1, len(items)):
            if items[at].slot != "family" or not _lacks_end(items, at):
                continue
            guess = self._best(items, [Span(at - 1, at + 1)], ("zone",), _LEAST_END)
            if guess is not None and guess.item.value in items[at].value.split("+"):
                return _with(items, guess)
            one = ended(items[at - 1], items[at], self._matcher, self._map)
            if one is not None:
                return _with(items, _Guess(Span(at - 1, at + 1), one))
        return items

    def _place(self, items: list[Item]) -> list[Item]:
        """A name of several words one of which is odd; without any place, a single word too."""
        while (guess := self._missing_place(items)) is not None:
            items = _with(items, guess)
        return items

    def _missing_place(self, items: Sequence[Item]) -> _Guess | None:
        whole = Span(0, len(items))
        spans = odd_spans(items, whole, _IN_NAMES)
        spans = [span for span in spans if has_unknown(items[span.begin : span.end])]
        if any(item.slot in PLACES for item in items):
            spans = [] if _is_unseen(items) else [s for s in spans if _has_words(items, s)]
            guess = self._best(items, spans, ("zone",), _LEAST_NAME)
        elif any(item.slot in DESCRIBING for item in items) or _is_unseen(items):
            guess = self._best(items, spans, PLACES, _LEAST_ZONE)
        else:
            return None
        return guess if guess is not None and is_to_the_point(items, guess.span, whole) else None

    def _state(self, items: list[Item]) -> list[Item]:
        """Places without a fault, from the last: each up to where the next place begins."""
        places = [at for at, item in enumerate(items) if item.slot in PLACES]
        begins = [0, *[place + 1 for place in places]]
        ends = [*places[1:], len(items)]
        for place, begin, end in reversed(list(zip(places, begins, ends, strict=False))):
            guess = self._missing_state(items, Span(begin, end), place)
            items = _with(items, guess) if guess is not None else items
        return items

    def _missing_state(self, items: Sequence[Item], within: Span, place: int) -> _Guess | None:
        stretch = items[within.begin : within.end]
        if any(_says(item) or item.slot == "ignore" for item in stretch):
            return None  # told already, or only gone to: "moving on to the left rail"
        spans = [span for span in odd_spans(items, within) if stands_near(items, span, place)]
        guess = self._best(items, spans, _STATES, _LEAST_STATE)
        return guess if guess is not None and is_to_the_point(items, guess.span, within) else None

    def _best(
        self, items: Sequence[Item], spans: Sequence[Span], slots: Sequence[str], least: float
    ) -> _Guess | None:
        guesses = [
            _Guess(span, item)
            for span in spans
            for item in self._sounding(items[span.begin : span.end], slots, least)
        ]
        return max(guesses, key=_worth, default=None)

    def _sounding(
        self, run: Sequence[Item], slots: Sequence[str], least: float, ends: str = ""
    ) -> Iterator[Item]:
        words = [word for item in run for word in item.text.split()]
        for match in self._matcher.sounding(words, slots, least):
            phrase = match.phrase
            if not phrase.text.endswith(ends):
                continue
            yield Item(
                phrase.slot, phrase.value, run[0].start, run[-1].end, min(_MOST, match.score),
                phrase.also, text=" ".join(words), stop=run[-1].stop,
            )  # fmt: skip


def _worth(guess: _Guess) -> float:
    """ "Front sail" is rather a front rail than its second word alone a sill."""
    further = guess.span.end - guess.span.begin - 1
    return guess.item.score + (_FURTHER * further if guess.item.slot in PLACES else 0.0)


def _lacks_end(items: Sequence[Item], at: int) -> bool:
    """No end is said, and the word before the name may be one."""
    before = items[at - 1]
    other = before.slot in (*SIDES, "measure") or is_light(before)
    return not (before.stop or other or has_end(items, at))


def _is_unseen(items: Sequence[Item]) -> bool:
    """What stands in the way of a place is no other place."""
    return any(item.slot == "act" and item.value == "not-seen" for item in items)


def _has_words(items: Sequence[Item], span: Span) -> bool:
    """Beside another place, a single word is too little for a name."""
    return sum(len(item.text.split()) for item in items[span.begin : span.end]) > 1


def _says(item: Item) -> bool:
    return (
        item.slot in DESCRIBING
        or (item.slot == "act" and item.value in _STEERING)
        or (item.slot in LABELS and item.value in _MEASURED)
    )


def _with(items: Sequence[Item], guess: _Guess) -> list[Item]:
    return [*items[: guess.span.begin], guess.item, *items[guess.span.end :]]
