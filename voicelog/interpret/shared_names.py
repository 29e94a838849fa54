"""A name said once for several places: "left front and right rear rail", "front, mid and rear rail"."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise

from voicelog.domain.zone import Family, ZoneMap
from voicelog.interpret.classes import PLACES, QUIET, SIDES
from voicelog.interpret.cover import Item
from voicelog.interpret.look import last_content

_PASSED = (*QUIET, *SIDES, "end", "join")
"""What stands between an end and the name that it shares."""


def with_shared_names(items: Sequence[Item], zone_map: ZoneMap) -> list[Item]:
    """The items; an end that shares the name of the place after "and" is a place of its own.

    Args:
        items: a run of an utterance, cut into phrases.
        zone_map: which names several places share.
    """
    return [_as_place(items, at, zone_map) for at in range(len(items))]


def _as_place(items: Sequence[Item], at: int, zone_map: ZoneMap) -> Item:
    item = items[at]
    before = last_content(items, at)
    if item.slot != "end" or (before is not None and before.slot in PLACES):
        return item  # "the left rail at the front and …": it belongs to what stands before it
    named = _named_later(items, at)
    family = None if named is None else _family(named, zone_map)
    zone = None if family is None else family.ends.get(item.value)
    if named is None or zone is None or zone == named.value:
        return item
    return replace(item, slot="zone", value=zone)


def _named_later(items: Sequence[Item], at: int) -> Item | None:
    """The place whose name it shares: an "and" stands before that, and nothing else but ends and sides."""
    joined = False
    for before, item in pairwise(items[at:]):
        if before.stop and not (before.stop == "," and item.slot == "end"):
            return None
        if item.slot in PLACES:
            return item if joined else None
        if item.slot not in _PASSED:
            return None
        joined = joined or (item.slot, item.value) == ("join", "and")
    return None


def _family(named: Item, zone_map: ZoneMap) -> Family | None:
    """The places that share the name; of an end and their name, in two items, the name."""
    if named.slot == "family":
        zones = tuple(named.value.split("+"))
        return next((one for one in zone_map.families if one.zones == zones), None)
    return next((one for one in zone_map.families if named.value in one.ends.values()), None)
