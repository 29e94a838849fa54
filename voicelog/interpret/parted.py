"""A state parted from its thing by the place: "the bolts on the left cab mount are wasted".

Phrases of the vocabulary are sought in words that stand together: "bolts wasted". Where a thing
comes first, "on" or "in" with a place after it, and then words that with the thing make a fault,
they are taken as that fault, which is more than the words behind the place say alone.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from voicelog.interpret.classes import FAULTS, PLACES, SIDES
from voicelog.interpret.cover import Item
from voicelog.interpret.gaps import LIGHT, THING
from voicelog.interpret.matcher import Matcher

_TYING = frozenset(("in", "on", "of", "at"))
_LONGEST = 4
"""Words behind the place that may be the state at most."""
_SPARED = ("join", "contrast", "side", "kerb")
"""What may stand between the place and the state: "…, and it's", "… on the left, just"."""
_DRAIN = ("drain", "drains", "drain hole", "drain holes", "drainage hole", "drainage holes")


def rejoined(items: Sequence[Item], matcher: Matcher) -> list[Item]:
    """The items, with a fault where a thing and the words behind its place are one.

    Args:
        items: a run of an utterance, cut into phrases.
        matcher: knows the phrases.
    """
    kept = list(items)
    for at, item in enumerate(items):
        place = _place_of(items, at) if _is_thing(item) else None
        if place is not None:
            return _with_state(kept, item, place, matcher)
    return kept


def _is_thing(item: Item) -> bool:
    named = item.slot == "filler" and item.value == THING
    return (named or item.slot == "part" or item.text in _DRAIN) and not item.stop


def _place_of(items: Sequence[Item], thing: int) -> int | None:
    """Index of the place that the thing is in or on, with its side at most between them."""
    tied = False
    for at in range(thing + 1, len(items)):
        item = items[at]
        tied = tied or item.text.split()[0] in _TYING
        if item.slot in PLACES or item.text == "it":
            return at if tied else None
        small = item.slot in (*SIDES, "end") or _is_light(item) or item.text in _TYING
        if item.stop or not small:
            return None
    return None


def _with_state(items: list[Item], thing: Item, place: int, matcher: Matcher) -> list[Item]:
    begin = place + 1
    while begin < len(items) and (_is_light(items[begin]) or items[begin].slot in _SPARED):
        begin += 1
    for end in range(min(len(items), begin + _LONGEST), begin, -1):
        run = items[begin:end]
        if any(item.stop for item in run[:-1]):
            continue
        found = _fault(thing, run, matcher)
        if found is not None:
            return [*items[:begin], found, *items[end:]]
    return items


def _fault(thing: Item, run: Sequence[Item], matcher: Matcher) -> Item | None:
    """The fault that the thing's words and these are, spread over these."""
    words = " ".join((thing.text, *(item.text for item in run))).split()
    for match in matcher.carried(words):
        phrase = match.phrase
        if phrase.slot in FAULTS:
            return replace(
                run[-1], slot=phrase.slot, value=phrase.value, start=run[0].start,
                score=match.score, also=phrase.also, measure=None,
                text=" ".join(item.text for item in run),
                weight=sum(item.weight for item in run),
            )  # fmt: skip
    return None


def _is_light(item: Item) -> bool:
    return item.slot == "filler" and item.value == LIGHT
