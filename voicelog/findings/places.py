"""Places in words: the way a person would name them."""

from __future__ import annotations

from voicelog.domain.entry import Entry
from voicelog.domain.slot import Slots
from voicelog.domain.zone import Layout, Zone, ZoneMap
from voicelog.findings.facts_of import known_zone

UNPLACED = "unplaced"
"""Stands for the zone of a gap whose place nobody said."""

_FACES = {
    "interior": "inside",
    "top": "top face",
    "bottom": "bottom face",
    "front": "front face",
    "rear": "rear face",
    "inboard": "inboard face",
    "outboard": "outboard face",
}


def place_in_words(slots: Slots, zone_map: ZoneMap) -> str:
    """A place the way a person would name it, for example ``left front rail, inside``."""
    zone = known_zone(slots, zone_map)
    if zone is None:
        return str(slots.get("zone", "a place nobody named")).replace("-", " ")
    name, side = title_in_words(zone), slots.get("side")
    if "ordinal" in slots:
        name = f"{name} number {slots['ordinal']}"
    if side in ("left", "right"):
        name = f"{side} {name}"
    face = _FACES.get(str(slots.get("face", "")), "")
    return ", ".join(part for part in (name, _other_side(zone, side), face) if part)


def _other_side(zone: Zone, side: object) -> str:
    """What is said behind the name where the side is not simply left or right."""
    if side == "both":
        return "both sides"
    if side == "centre":
        return "in the centre"
    return "side not said" if side is None and zone.layout is Layout.PAIR else ""


def title_in_words(zone: Zone) -> str:
    """A zone's title as it stands within a sentence."""
    return zone.title_within


def fault_in_words(entry: Entry) -> str:
    """What is the matter, for example ``surface rust, said with a hedge``."""
    condition = str(entry.slots.get("condition", "a fault not named")).replace("-", " ")
    hedge = ", said with a hedge" if entry.slots.get("certainty") == "tentative" else ""
    doubt = ", doubtful: listen again" if entry.doubtful else ""
    return f"{condition}{hedge}{doubt}"
