"""Places in words: the way a person would name them."""

from __future__ import annotations

from voicelog.domain.entry import Entry
from voicelog.domain.slot import Slots
from voicelog.domain.zone import Layout, Zone, ZoneMap
from voicelog.findings.facts_of import known_zone
from voicelog.tongue import joined, to_word, worded

UNPLACED = "unplaced"
"""Stands for the zone of a gap whose place nobody said."""

_FACES = {
    "interior": to_word("inside"),
    "top": to_word("top face"),
    "bottom": to_word("bottom face"),
    "front": to_word("front face"),
    "rear": to_word("rear face"),
    "inboard": to_word("inboard face"),
    "outboard": to_word("outboard face"),
}
_ON_SIDE = {"left": to_word("left {place}"), "right": to_word("right {place}")}


def place_in_words(slots: Slots, zone_map: ZoneMap) -> str:
    """A place the way a person would name it, for example ``left front rail, inside``."""
    zone = known_zone(slots, zone_map)
    if zone is None:
        unknown = slots.get("zone")
        return str(unknown).replace("-", " ") if unknown else worded("a place nobody named")
    name, side = title_in_words(zone), slots.get("side")
    if "ordinal" in slots:
        name = worded("{place} number {number}", place=name, number=slots["ordinal"])
    if side in ("left", "right"):
        name = worded(_ON_SIDE[str(side)], place=name)
    face = _FACES.get(str(slots.get("face", "")), "")
    parts = (name, _other_side(zone, side), worded(face) if face else "")
    return joined(", ", filter(None, parts))


def _other_side(zone: Zone, side: object) -> str:
    """What is said behind the name where the side is not simply left or right."""
    if side == "both":
        return worded("both sides")
    if side == "centre":
        return worded("in the centre")
    return worded("side not said") if side is None and zone.layout is Layout.PAIR else ""


def title_in_words(zone: Zone) -> str:
    """A zone's title as it stands within a sentence."""
    return zone.title_within


def fault_in_words(entry: Entry) -> str:
    """What is the matter, for example ``surface rust, said with a hedge``."""
    condition = str(entry.slots.get("condition", "")).replace("-", " ")
    told = [condition or worded("a fault not named")]
    if entry.slots.get("certainty") == "tentative":
        told.append(worded("said with a hedge"))
    if entry.doubtful:
        told.append(worded("doubtful: listen again"))
    return joined(", ", told)
