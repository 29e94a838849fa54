"""Stretches of a sentence: runs of words that may be one phrase, and what stands round them."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import takewhile
from typing import NamedTuple

from voicelog.interpret.classes import PLACES, QUIET, SIDES
from voicelog.interpret.cover import Item
from voicelog.interpret.gaps import LIGHT
from voicelog.interpret.look import PREPOSITIONS

_LONGEST = 4
"""Items of the longest run that may be one phrase."""
_IDLE = {"unknown": 1.0, "filler": 0.5}
_MOST_IDLE = 0.5
"""Idle words at most for one that tells; an unknown word is idle, a known one half so."""
_END_WITHIN = 2
"""Items around a name among which the end of the vehicle is its own."""


class Span(NamedTuple):
    """Items from ``begin`` to before ``end``."""

    begin: int
    end: int


def odd_spans(items: Sequence[Item], within: Span, held: Sequence[str] = ()) -> list[Span]:
    """Runs without a stop inside, all of it odd words or ``held`` classes and one at least odd.

    Args:
        items: the sentence.
        within: where to look.
        held: classes that may stand in the run besides.
    """
    found = []
    for begin in range(*within):
        for end in range(begin + 1, min(within.end, begin + _LONGEST) + 1):
            if items[end - 1].slot not in (*QUIET, *held):
                break
            if _may_be_phrase(items[begin:end]):
                found.append(Span(begin, end))
            if items[end - 1].stop:
                break
    return found


def _may_be_phrase(run: Sequence[Item]) -> bool:
    bounded = not (is_light(run[0]) or is_light(run[-1]))
    return bounded and any(item.slot in QUIET for item in run)


def is_light(item: Item) -> bool:
    """True for a small word that says nothing anywhere."""
    return item.slot == "filler" and item.value == LIGHT


def has_unknown(items: Sequence[Item]) -> bool:
    """True when nothing explains one of the words."""
    return any(item.slot == "unknown" for item in items)


def is_to_the_point(items: Sequence[Item], taken: Span, within: Span) -> bool:
    """Few words are left that say nothing: otherwise the sentence is about something else."""
    left = [*items[within.begin : taken.begin], *items[taken.end : within.end]]
    telling = 1 + sum(item.slot not in (*QUIET, "ignore", "join") for item in left)
    idle = sum(_IDLE.get(item.slot, 0.0) for item in left if not is_light(item))
    return idle <= _MOST_IDLE * telling


def stands_near(items: Sequence[Item], span: Span, place: int) -> bool:
    """A known word is taken for a fault only right beside the place, small words aside."""
    if has_unknown(items[span.begin : span.end]):
        return True
    between = items[span.end : place] if span.end <= place else items[place + 1 : span.begin]
    return all(
        is_light(item) or item.slot in SIDES or item.text in PREPOSITIONS for item in between
    )


def has_end(items: Sequence[Item], at: int) -> bool:
    """True when the end of the vehicle is said beside a name."""
    nearby = items[max(0, at - _END_WITHIN) : at + _END_WITHIN + 1]
    return any(item.slot in ("end", "face") for item in nearby)


def has_side(items: Sequence[Item], at: int) -> bool:
    """True when a side is said between the place before a name and the place after it."""
    before, after = reversed(items[:at]), items[at + 1 :]
    return any(
        item.slot in SIDES
        for part in (before, after)
        for item in takewhile(lambda item: item.slot not in PLACES, part)
    )
