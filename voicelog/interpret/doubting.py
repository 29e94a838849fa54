"""When is what was read to be listened to again?

Signs are weighed rather than counted: a side taken by its sound is nearly always right where one
was missing, a fault taken by a faint likeness seldom, and two mild signs in one sentence are worth
one strong one. The weights follow the share of wrong entries behind each sign, measured on the
tuning part of ``tests/corpus`` with 10 and 25 words in 100 misheard.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from voicelog.domain.slot_title import value_title
from voicelog.domain.zone import ZoneMap
from voicelog.interpret.cover import Item
from voicelog.interpret.draft import Draft
from voicelog.interpret.measures import Measure
from voicelog.tongue import english_of

ENOUGH = 0.55
"""Weight from which a statement is doubtful."""

_SURE = 0.86
"""Score from which a phrase is taken for what it says."""
_TAKEN = {
    "side": (0.5, 0.5), "kerb": (0.5, 0.5), "zone": (0.5, 0.6), "family": (0.6, 1.0),
    "condition": (0.55, 1.0), "rot": (0.55, 1.0), "rust": (0.55, 1.0), "measure": (0.6, 0.6),
}  # fmt: skip
_TAKEN_OTHERWISE = (0.6, 1.0)
_GUESSED = 0.5
"""Score below which a word is a guess, and doubtful by itself."""
_WELL, _FAINTLY = 0.78, 0.72
"""Scores between which the weight grows from the first figure to the second."""
_BESIDE = {
    ("before", "measure"): 1.0, ("after", "measure"): 1.0, ("before", "family"): 1.0,
    ("before", "zone"): 1.0, ("after", "side"): 1.0, ("after", "kerb"): 1.0, ("after", "end"): 1.0,
    ("after", "condition"): 0.55, ("after", "zone"): 0.5, ("before", "condition"): 0.5,
}  # fmt: skip
_BESIDE_OTHERWISE = 0.4


@dataclass(frozen=True, slots=True)
class _Sign:
    text: str
    weight: float


def word_doubts(draft: Draft, zone_map: ZoneMap) -> tuple[str, ...]:
    """Why the words of a draft may not be what they were taken for; none when it is sure enough."""
    weighty = _weighty(draft)
    signs = [*_taken(weighty, zone_map), *_strangers(draft.items, weighty)]
    if draft.past and draft.condition is not None and draft.condition.value != "old-repair":
        signs.append(_Sign("said of the past", ENOUGH))
    if sum(sign.weight for sign in signs) < ENOUGH:
        return ()
    return tuple(dict.fromkeys(sign.text for sign in signs))


def _weighty(draft: Draft) -> list[Item]:
    """The words that settle a slot."""
    numbers = [item for item in draft.numbers if item.measure is not None]
    condition = [draft.condition] if draft.condition is not None else []
    return [*draft.zones, *draft.sides, *draft.others.values(), *numbers, *condition]


def _taken(weighty: Sequence[Item], zone_map: ZoneMap) -> Iterator[_Sign]:
    """Words taken for a phrase that they only look or sound like."""
    for item in weighty:
        if item.score < _SURE:
            mild, strong = _TAKEN.get(item.slot, _TAKEN_OTHERWISE)
            if item.score < _GUESSED:
                mild = strong = ENOUGH
            faintness = min(1.0, max(0.0, (_WELL - item.score) / (_WELL - _FAINTLY)))
            meant = _meant(item, zone_map)
            yield _Sign(f'"{item.text}" was taken for {meant}', mild + (strong - mild) * faintness)


def _meant(item: Item, zone_map: ZoneMap) -> str:
    """What it was taken for, in words; of a shared name, every place that it may be."""
    if item.measure is not None:
        return _said_as(item.measure)
    slot = "zone" if item.slot == "family" else item.slot
    options = item.value.split("+") if item.slot == "family" else [item.value]
    return " or ".join(english_of(value_title(slot, one, zone_map)) for one in options)


def _said_as(measure: Measure) -> str:
    return f"{float(measure.number):g} {measure.unit}".strip()


def _strangers(items: Sequence[Item], weighty: Sequence[Item]) -> Iterator[_Sign]:
    """Words that nothing explains right beside what matters: what was really said there?"""
    slots = {(item.start, item.end): item.slot for item in weighty}
    for before, after in pairwise(items):
        for odd, told, where in ((before, after, "before"), (after, before, "after")):
            slot = slots.get((told.start, told.end))
            if odd.slot == "unknown" and slot is not None and not before.stop:
                weight = _BESIDE.get((where, slot), _BESIDE_OTHERWISE)
                yield _Sign(f'"{odd.text}" beside "{told.text}" was not understood', weight)
