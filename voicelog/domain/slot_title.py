"""Slots in people's words: what a screen, a question or a doubt calls them."""

from __future__ import annotations

from collections.abc import Mapping

from voicelog.domain.zone import ZoneMap
from voicelog.tongue import to_word, worded

TITLES: Mapping[str, str] = {
    "zone": to_word("place"), "ordinal": to_word("which one, by number"), "side": to_word("side"), "face": to_word("face"),
    "part": to_word("part"), "condition": to_word("condition"), "layer": to_word("coating or metal"), "probe": to_word("probe"),
    "method": to_word("how it was looked at"), "surround": to_word("metal around it"), "count": to_word("how many"),
    "size_mm": to_word("size"), "width_mm": to_word("width"), "depth_mm": to_word("depth"), "thickness_mm": to_word("thickness"),
    "nominal_mm": to_word("thickness when new"), "loss_percent": to_word("wall lost"),
    "area_percent": to_word("share of the surface"), "mount_distance_mm": to_word("distance to a mounting"),
    "certainty": to_word("stated or tentative"), "spoken_grade": to_word("grade you give it"),
    "landmark": to_word("landmark"), "vin": to_word("VIN"), "plate": to_word("plate"), "paint_code": to_word("paint code"),
    "spelt": to_word("spelled"), "odometer": to_word("odometer"), "inspector": to_word("inspector"),
}  # fmt: skip
"""Every slot to its name, marked for the catalogue."""

_VALUES = {("face", "interior"): to_word("inside")}
"""Values that people call otherwise than by their name."""
_UNITS = {"_mm": " mm", "_percent": " %"}
"""Unit by the ending of a slot's name."""


def slot_title(slot: str) -> str:
    """A slot's name; of one that this version does not know, its name with spaces."""
    return worded(TITLES[slot]) if slot in TITLES else slot.replace("_", " ")


def value_title(slot: str, value: str, zone_map: ZoneMap | None = None) -> str:
    """A value as one of several that it may be: ``mid rail``, ``inside``.

    Args:
        slot: whose value it is.
        value: as the slot holds it.
        zone_map: titles of the zones; without it a zone goes by its id.
    """
    if slot == "zone" and zone_map is not None:
        return zone_map.title_of(value)
    told = slot not in ("odometer", "vin", "plate", "paint_code", "spelt", "inspector")
    if (slot, value) in _VALUES:
        return worded(_VALUES[slot, value])
    return value.replace("-", " ") if told else value


def number_title(slot: str, number: float) -> str:
    """A number with what it measures, in English, as doubts are: ``size 80000 mm``."""
    unit = next((unit for ending, unit in _UNITS.items() if slot.endswith(ending)), "")
    return f"{TITLES.get(slot, slot)} {number:g}{unit}"
