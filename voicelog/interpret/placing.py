"""Where a draft says it is: zones, families, sides, and what cannot be told."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from voicelog.domain.entry import Question
from voicelog.domain.reading import Speech
from voicelog.domain.slot import SlotValue
from voicelog.domain.zone import Layout, ZoneMap
from voicelog.interpret.cover import Item
from voicelog.interpret.draft import Draft

_OPPOSITE = {"left": "right", "right": "left"}


@dataclass(frozen=True, slots=True)
class Context:
    """What reading needs besides the words.

    Args:
        zone_map: the places of the vehicle.
        speech: how this speaker's words are to be taken.
    """

    zone_map: ZoneMap
    speech: Speech


@dataclass(slots=True)
class Place:
    """Slots of a place, with what is unclear about it."""

    slots: dict[str, SlotValue]
    doubts: list[str]
    questions: list[Question]
    other_side: bool = False
    end_told: bool = False
    """The face said which of several zones was meant ("the hanger at the front"): it is no face."""


def places(draft: Draft, context: Context) -> list[Place]:
    """Each place the draft names; one without slots where it names none."""
    sides = _sides(draft, context)
    zones: list[Item | None] = list(draft.zones) or [None]
    if len(zones) > 1 and all(_is_single(zone, context.zone_map) for zone in draft.zones):
        sides = [side for side in sides if side[0] != "both"]  # "carrier and hitch, both clean"
    if len(zones) > 1 and len(sides) > 1:
        return [_place(draft, zone, [side], context) for zone, side in _pair(zones, sides)]
    return [_place(draft, zone, sides, context) for zone in zones]


def _is_single(zone: Item, zone_map: ZoneMap) -> bool:
    """It has neither a left nor a right one."""
    return zone.value in zone_map and zone_map[zone.value].layout is Layout.ONE


def _pair(
    zones: Sequence[Item | None], sides: Sequence[tuple[str, str]]
) -> list[tuple[Item | None, tuple[str, str]]]:
    longest = max(len(zones), len(sides))
    return [(zones[min(i, len(zones) - 1)], sides[min(i, len(sides) - 1)]) for i in range(longest)]


def _sides(draft: Draft, context: Context) -> list[tuple[str, str]]:
    """(side, doubt) for each side word; the side is empty where it cannot be told."""
    found: list[tuple[str, str]] = []
    for item in draft.sides:
        side = _side(item, context.speech)
        if side not in found:
            found.append(side)
    return found


def _side(item: Item, speech: Speech) -> tuple[str, str]:
    if item.slot == "kerb":
        near = speech.nearside
        return (near if item.value == "near" else _OPPOSITE[near]), ""
    if item.slot == "seat":
        if speech.driver_side is None:
            return "", "which side the driver sits on is not known"
        driver = speech.driver_side
        return (driver if item.value == "driver" else _OPPOSITE[driver]), ""
    if item.slot == "viewer":
        return "", "whose left and right was meant is not known"
    if item.slot == "other-side":
        return "other", ""
    if item.slot == "pronoun":
        words = item.text.split()
        return next((word for word in words if word in _OPPOSITE), ""), ""
    return item.value, ""


def _place(
    draft: Draft, zone: Item | None, sides: Sequence[tuple[str, str]], context: Context
) -> Place:
    place = Place({}, [], [])
    if zone is not None:
        _put_zone(place, zone, draft, context)
    elif "end" in draft.others and draft.others["end"].value in ("front", "rear"):
        place.slots["face"] = draft.others["end"].value
    named = [side for side, _ in sides if side in ("left", "right", "both", "centre")]
    if {"left", "right"} <= set(named):
        place.slots["side"] = "both"
    elif named:
        place.slots["side"] = named[-1]
    place.other_side = any(side == "other" for side, _ in sides)
    for side, doubt in sides:
        if doubt and not side:
            place.doubts.append(doubt)
            place.questions.append(Question("side", ("left", "right")))
    return place


def _put_zone(place: Place, item: Item, draft: Draft, context: Context) -> None:
    if item.slot == "zone":
        place.slots["zone"] = item.value
        return
    options = tuple(item.value.split("+"))
    picked = _by_end(options, draft, context)
    if picked is not None:
        place.slots["zone"] = picked
        place.end_told = "end" not in draft.others
    else:
        place.questions.append(Question("zone", options))
        place.doubts.append(f"which {item.text} was meant is not known")


def _by_end(options: tuple[str, ...], draft: Draft, context: Context) -> str | None:
    family = next((f for f in context.zone_map.families if f.zones == options), None)
    for slot in ("end", "face"):
        said = draft.others.get(slot)
        if said is not None and family is not None and said.value in family.ends:
            return family.ends[said.value]
    return None
