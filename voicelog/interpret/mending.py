"""A second look at a sentence that lacks something: what may its odd words have been?

Reading takes words at their face value first. Where that leaves a place without a fault, a fault
without a place, a mounting of which there are two without a side, or "the rail" without an end, the
words that nothing explained are compared by sound with the phrases of the missing kind: "left front
rain, surface rust" lacks a place, and "front rain" sounds like one. A complete sentence is never
touched, nor is talk, so that "rest" in chatter stays what it is. What is taken so is scored low
enough to be marked doubtful.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from voicelog.domain.zone import Layout, ZoneMap
from voicelog.interpret.cover import Cover, Item
from voicelog.interpret.gaps import LIGHT
from voicelog.interpret.matcher import Matcher
from voicelog.interpret.scope import apart

PLACES = ("zone", "family")
STATES = ("condition", "rot", "rust", "clear", "good", "probe")
SIDES = ("side", "kerb", "seat", "other-side", "viewer", "pronoun")
_TALK = ("address", "question", "hypothetical", "tag")
_ODD = ("unknown", "filler")
_STEERING = ("correction", "same", "another", "photo", "not-seen", "amend", "spell")

MOST = 0.85
"""Score at most of a word taken by its sound: under the reader's limit for doubt."""
_LEAST_ZONE, _LEAST_NAME, _LEAST_STATE, _LEAST_SIDE, _LEAST_END = 0.68, 0.74, 0.6, 0.55, 0.72
"""Lowest scores (0.9 is exactly the same sound) at which the missing kind is taken."""
_LONGEST = 4
_IDLE = {"unknown": 1.0, "filler": 0.5}
_MOST_IDLE = 0.5
"""Idle words at most for one that tells; an unknown word is idle, a known one half so."""


@dataclass(frozen=True, slots=True)
class _Guess:
    """Items from ``begin`` to ``end`` as one phrase."""

    begin: int
    end: int
    item: Item


class Mender:
    """Looks again with one vocabulary and one map."""

    def __init__(self, matcher: Matcher, zone_map: ZoneMap) -> None:
        self._matcher = matcher
        self._map = zone_map

    def mended(self, cover: Cover) -> Cover:
        """The cover with what it lacks, where its odd words sound like it; else the same."""
        runs = [self._run(run) for run in apart(cover.items)]
        return Cover(tuple(item for run in runs for item in run), cover.total)

    def _run(self, run: Sequence[Item]) -> list[Item]:
        items = list(run)
        slots = {item.slot for item in items}
        if slots & {*_TALK} or not slots & {*STATES, *PLACES, "measure"}:
            return items
        for step in (self._end, self._place, self._state, self._side):
            items = step(items)
        return items

    def _end(self, items: list[Item]) -> list[Item]:
        """ "Where spring hanger", "mud rail": the word before a name that several zones share."""
        for at, item in enumerate(items):
            if item.slot != "family" or at == 0 or items[at - 1].stop or _has_end(items, at):
                continue
            before = items[at - 1]
            if before.slot in SIDES or before.slot == "measure" or _is_light(before):
                continue
            guess = self._best(items, [(at - 1, at + 1)], ("zone",), _LEAST_END)
            if guess is not None and guess.item.value in item.value.split("+"):
                return _with(items, guess)
        return items

    def _place(self, items: list[Item]) -> list[Item]:
        """A name of several words one of which is odd; without any place, a single word too."""
        lacking = not any(item.slot in PLACES for item in items)
        if lacking and not any(item.slot in STATES for item in items):
            return items
        spans = _spans(items, 0, len(items), held=("end", "part", "face", "label"))
        spans = [(a, b) for a, b in spans if any(item.slot == "unknown" for item in items[a:b])]
        if not lacking and any(i.slot == "act" and i.value == "not-seen" for i in items):
            return items  # what stands in the way is no place
        if not lacking:
            spans = [(a, b) for a, b in spans if sum(len(i.text.split()) for i in items[a:b]) > 1]
        least = _LEAST_ZONE if lacking else _LEAST_NAME
        guess = self._best(items, spans, PLACES if lacking else ("zone",), least)
        if guess is None or not _to_the_point(items, guess, 0, len(items)):
            return items
        return self._place(_with(items, guess))

    def _state(self, items: list[Item]) -> list[Item]:
        """Places without a fault: each up to where the next place begins."""
        places = [at for at, item in enumerate(items) if item.slot in PLACES]
        for number in reversed(range(len(places))):
            begin = 0 if number == 0 else places[number - 1] + 1
            end = places[number + 1] if number + 1 < len(places) else len(items)
            stretch = items[begin:end]
            if any(_says(item) for item in stretch):
                continue
            spans = _spans(items, begin, end)
            spans = [(a, b) for a, b in spans if _stands_near(items, a, b, places[number])]
            guess = self._best(items, spans, ("condition", "clear", "probe", "rot"), _LEAST_STATE)
            if guess is not None and _to_the_point(items, guess, begin, end):
                items = _with(items, guess)
        return items

    def _side(self, items: list[Item]) -> list[Item]:
        """One of two without a side: the word before it, or the first one."""
        for at, item in enumerate(items):
            if item.slot != "zone" or not self._paired(item.value) or _has_side(items, at):
                continue
            near = [(at - 1, at)] if at and not items[at - 1].stop else []
            near += [(0, 1)] if at > 1 and items[0].slot == "unknown" else []
            for first, last in near:
                guess = self._sided(items[first])
                if guess is not None:
                    return self._side(_with(items, _Guess(first, last, guess)))
        return items

    def _sided(self, odd: Item) -> Item | None:
        if odd.slot not in (*_ODD, "hedge", "clear", "good") or " " in odd.text:
            return None
        match = self._matcher.side_sounding(odd.text, _LEAST_SIDE)
        if match is None:
            return None
        return replace(odd, slot=match.phrase.slot, value=match.phrase.value, score=match.score)

    def _paired(self, zone: str) -> bool:
        return zone in self._map and self._map[zone].layout is Layout.PAIR

    def _best(
        self,
        items: Sequence[Item],
        spans: Sequence[tuple[int, int]],
        slots: Sequence[str],
        least: float,
    ) -> _Guess | None:
        guesses = [
            _Guess(begin, end, guessed)
            for begin, end in spans
            for guessed in self._sounding(items[begin:end], slots, least)
        ]
        return max(guesses, key=lambda g: (g.item.score, g.end - g.begin), default=None)

    def _sounding(self, run: Sequence[Item], slots: Sequence[str], least: float) -> Iterator[Item]:
        words = [word for item in run for word in item.text.split()]
        for match in self._matcher.sounding(words, slots, least):
            phrase = match.phrase
            yield Item(
                phrase.slot, phrase.value, run[0].start, run[-1].end, min(MOST, match.score),
                phrase.also, text=" ".join(words), stop=run[-1].stop,
            )  # fmt: skip


def _says(item: Item) -> bool:
    return (
        item.slot in STATES
        or (item.slot == "act" and item.value in _STEERING)
        or (item.slot in ("label", "lead") and item.value in ("thickness_mm", "loss_percent"))
    )


def _spans(
    items: Sequence[Item], begin: int, end: int, held: Sequence[str] = ()
) -> list[tuple[int, int]]:
    """Runs of up to four items without a stop inside that hold an odd one, odd or ``held`` all."""
    found = []
    for first in range(begin, end):
        for last in range(first + 1, min(end, first + _LONGEST) + 1):
            run = items[first:last]
            if run[-1].slot not in (*_ODD, *held):
                break
            light = _is_light(run[0]) or _is_light(run[-1])
            if not light and any(item.slot in _ODD for item in run):
                found.append((first, last))
            if run[-1].stop:
                break
    return found


def _is_light(item: Item) -> bool:
    return item.slot == "filler" and item.value == LIGHT


def _to_the_point(items: Sequence[Item], guess: _Guess, begin: int, end: int) -> bool:
    """Few words are left that say nothing: otherwise the sentence is about something else."""
    left = [*items[begin : guess.begin], *items[guess.end : end]]
    told = 1 + sum(item.slot not in (*_ODD, "ignore", "join") for item in left)
    idle = sum(_IDLE.get(item.slot, 0.0) for item in left if not _is_light(item))
    return idle <= _MOST_IDLE * told


def _stands_near(items: Sequence[Item], begin: int, end: int, place: int) -> bool:
    """A known word is taken for a fault only right beside the place, small words aside."""
    if any(item.slot == "unknown" for item in items[begin:end]):
        return True
    between = items[end:place] if end <= place else items[place + 1 : begin]
    return all(_is_light(item) or item.slot in SIDES for item in between)


def _has_end(items: Sequence[Item], at: int) -> bool:
    return any(item.slot in ("end", "face") for item in items[max(0, at - 2) : at + 3])


def _has_side(items: Sequence[Item], at: int) -> bool:
    """A side between the place before and the place after."""
    begin = at
    while begin > 0 and items[begin - 1].slot not in PLACES:
        begin -= 1
    end = at + 1
    while end < len(items) and items[end].slot not in PLACES:
        end += 1
    return any(item.slot in SIDES for item in items[begin:end])


def _with(items: Sequence[Item], guess: _Guess) -> list[Item]:
    return [*items[: guess.begin], guess.item, *items[guess.end :]]
