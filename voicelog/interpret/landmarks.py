"""Landmarks: "six inches from the spring hanger" as free text, a distance and a place nearby."""

from __future__ import annotations

from collections.abc import Mapping

from voicelog.domain.slot import SlotValue
from voicelog.domain.zone import Role, ZoneMap
from voicelog.interpret.classes import QUIET
from voicelog.interpret.cover import Item
from voicelog.interpret.draft import Draft
from voicelog.interpret.measures import Measure

_LANDMARK_WORDS = (*QUIET, "part")
"""Words that a landmark without a name of the map may have ("along the seam")."""
_TELLING = ("unknown", "part")
_BOLTS = frozenset(("bolt", "bolts", "nut", "nuts", "stud", "studs", "pin"))
_WITHIN = 3
"""Items after "along the" among which one must tell."""


def landmark_slots(
    draft: Draft, distances: Mapping[int, Measure], zone_map: ZoneMap
) -> dict[str, SlotValue]:
    """The landmark as free text, and the distance to it in mm where it is a mounting.

    Args:
        draft: what was said.
        distances: the distance to each landmark, by the first token of its relation.
        zone_map: the places of the vehicle.
    """
    slots: dict[str, SlotValue] = {}
    named = any(zone is not None for _, zone in draft.landmarks)
    for relation, zone in draft.landmarks:
        distance = distances.get(relation.start)
        own = _is_own_bolt(draft, relation, zone_map)
        counts = own or named if zone is None else _is_mounting(zone, zone_map)
        if distance is not None and counts:
            slots["mount_distance_mm"] = round(distance.value, 4)
        if zone is not None or own or _has_own_words(draft, relation):
            slots["landmark"] = _text(draft, relation, zone, distance)
    return slots


def near(draft: Draft, zone_map: ZoneMap) -> str:
    """The zone of the first landmark that has one; empty where none has."""
    named = [zone.value for _, zone in draft.landmarks if zone is not None and zone.slot == "zone"]
    return next((zone for zone in named if zone in zone_map), "")


def _has_own_words(draft: Draft, relation: Item) -> bool:
    """ "Along the seam" says where; "along the" says nothing."""
    after = [item for item in draft.items if item.start >= relation.end][:_WITHIN]
    return not relation.stop and any(item.slot in _TELLING for item in after)


def _is_own_bolt(draft: Draft, relation: Item, zone_map: ZoneMap) -> bool:
    """ "Thirty mil from the bolt" of a mounting that is critical: the bolt is what it holds by."""
    after = [item for item in draft.items if item.start >= relation.end][:_WITHIN]
    bolt = any(set(item.text.split()) & _BOLTS for item in after if item.slot in QUIET)
    return bolt and any(_is_mounting(zone, zone_map) for zone in draft.zones)


def _text(draft: Draft, relation: Item, zone: Item | None, distance: Measure | None) -> str:
    text = _words(draft, relation, zone)
    if distance is None:
        return text.strip()
    about = "about " if distance.approximate else ""
    return f"{about}{float(distance.number):g} {distance.unit} {text}".replace("  ", " ").strip()


def _words(draft: Draft, relation: Item, zone: Item | None) -> str:
    """The words from the relation to the end of its place; of its clause where it names none."""
    words: list[str] = []
    for item in draft.items:
        if item.start < relation.start:
            continue
        if zone is None and item is not relation and item.slot not in _LANDMARK_WORDS:
            break
        words.append(item.text)
        if (item.stop and zone is None) or (zone is not None and item.end == zone.end):
            break
    return " ".join(words)


def _is_mounting(zone: Item, zone_map: ZoneMap) -> bool:
    return any(zone_map[one].role is Role.CRITICAL for one in zone.value.split("+"))
