"""Slots in people's words: what a screen, a question or a doubt calls them."""

from __future__ import annotations

from collections.abc import Mapping

from voicelog.domain.zone import ZoneMap

TITLES: Mapping[str, str] = {
    "zone": "place", "ordinal": "which one, by number", "side": "side", "face": "face",
    "part": "part", "condition": "condition", "layer": "coating or metal", "probe": "probe",
    "method": "how it was looked at", "surround": "metal around it", "count": "how many",
    "size_mm": "size", "width_mm": "width", "depth_mm": "depth", "thickness_mm": "thickness",
    "nominal_mm": "thickness when new", "loss_percent": "wall lost",
    "area_percent": "share of the surface", "mount_distance_mm": "distance to a mounting",
    "certainty": "stated or tentative", "spoken_grade": "grade you give it",
    "landmark": "landmark", "vin": "VIN", "plate": "plate", "paint_code": "paint code",
    "spelt": "spelled", "odometer": "odometer", "inspector": "inspector",
}  # fmt: skip
"""Every slot to its name."""

_VALUES = {("face", "interior"): "inside"}
"""Values that people call otherwise than by their name."""
_UNITS = {"_mm": " mm", "_percent": " %"}
"""Unit by the ending of a slot's name."""


def slot_title(slot: str) -> str:
    """A slot's name; of one that this version does not know, its name with spaces."""
    return TITLES.get(slot) or slot.replace("_", " ")


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
    return _VALUES.get((slot, value), value.replace("-", " ") if told else value)


def number_title(slot: str, number: float) -> str:
    """A number with what it measures: ``size 80000 mm``."""
    unit = next((unit for ending, unit in _UNITS.items() if slot.endswith(ending)), "")
    return f"{slot_title(slot)} {number:g}{unit}"
