"""Odd words that may be an end or a side of a place: "print rail", "rear rail on the lift"."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from voicelog.domain.zone import Layout, ZoneMap
from voicelog.interpret.classes import QUIET
from voicelog.interpret.cover import Item
from voicelog.interpret.lexicon import SAME_SOUND
from voicelog.interpret.look import PREPOSITIONS
from voicelog.interpret.matcher import Matcher
from voicelog.interpret.sounds import alike, sounds
from voicelog.interpret.spans import has_side, is_light

_LEAST_END, _CLEARLY = 0.57, 0.1
"""How alike a word and an end are at least, and how much more than the ends of other places."""
LEAST_SIDE, _LEAST_BEHIND = 0.55, 0.7
"""The same of a side, scored (0.9 is exactly the same sound); behind its name, where most words
belong to what comes, the second."""
_MAY_BE_SIDE = (*QUIET, "hedge", "clear", "good")
"""What the word before a name may have been taken for."""
_NUMBERING = ("ordinal", "measure")
"""What stands between a numbered mount and its side: "number three on the left"."""


def ended(odd: Item, name: Item, matcher: Matcher, zone_map: ZoneMap) -> Item | None:
    """One of the places that share a name, where the word before it sounds like its end alone.

    Args:
        odd: the word; one that the vocabulary has is left alone.
        name: a family's name.
        matcher: knows the sides, which such a word may be as well.
        zone_map: the places of the vehicle.
    """
    options = tuple(name.value.split("+"))
    family = next((f for f in zone_map.families if f.zones == options), None)
    if odd.slot not in QUIET or is_light(odd) or family is None or not family.ends:
        return None
    heard = sounds(odd.text)
    likes = {end: alike(heard, sounds(end)) for end in family.ends}
    best = max(likes, key=lambda end: likes[end])
    zone, like = family.ends[best], likes[best]
    others = [likes[end] for end, other in family.ends.items() if other != zone]
    least = max([_LEAST_END, *(other + _CLEARLY for other in others)])
    score = round(SAME_SOUND * like, 4)
    if like < least or matcher.side_sounding(odd.text, score) is not None:
        return None
    text = f"{odd.text} {name.text}"
    return replace(name, slot="zone", value=zone, start=odd.start, score=score, text=text)


def sided(items: list[Item], matcher: Matcher, zone_map: ZoneMap) -> list[Item]:
    """The items with the sides that places in pairs lack, where an odd word beside one is alike.

    Args:
        items: a run of an utterance, cut into phrases.
        matcher: knows the sides by their sounds.
        zone_map: the places of the vehicle.
    """
    for at, item in enumerate(items):
        if item.slot != "zone" or not _is_paired(item.value, zone_map) or has_side(items, at):
            continue
        for odd, least in _beside(items, at):
            side = _side_of(items[odd], least, matcher)
            if side is not None:
                return sided([*items[:odd], side, *items[odd + 1 :]], matcher, zone_map)
    return items


def _side_of(odd: Item, least: float, matcher: Matcher) -> Item | None:
    if " " in odd.text:
        return None
    match = matcher.side_sounding(odd.text, least)
    if match is None:
        return None
    return replace(odd, slot=match.phrase.slot, value=match.phrase.value, score=match.score)


def _is_paired(zone: str, zone_map: ZoneMap) -> bool:
    return zone in zone_map and zone_map[zone].layout is Layout.PAIR


def _beside(items: Sequence[Item], at: int) -> list[tuple[int, float]]:
    """Where the side of a name may stand, and how alike it must be: right before the name; first of
    all, if nothing knows that word; behind it ("rear rail lift", "mount two on the lift").
    """
    found: list[tuple[int, float]] = []
    if at and not items[at - 1].stop and items[at - 1].slot in _MAY_BE_SIDE:
        found.append((at - 1, LEAST_SIDE))
    if at > 1 and items[0].slot == "unknown":
        found.append((0, LEAST_SIDE))
    behind = at + 1
    while behind < len(items) and _leads_on(items[behind]):
        behind += 1
    tied = any(item.text in PREPOSITIONS for item in items[at + 1 : behind])
    stopped = any(item.stop for item in items[at:behind])
    if behind < len(items) and not stopped and items[behind].slot in QUIET:
        found.append((behind, LEAST_SIDE if tied else _LEAST_BEHIND))
    return found


def _leads_on(item: Item) -> bool:
    return is_light(item) or item.text in PREPOSITIONS or item.slot in _NUMBERING
