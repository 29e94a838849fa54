"""Maps that were written before places could say what they are: what their ids meant."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from voicelog.config.maps import MapFile

_MEANT: Mapping[str, Callable[[str], bool]] = {
    "main": lambda zone: zone in ("front-rail", "mid-rail", "rear-rail", "kick-up"),
    "routine": lambda zone: zone == "outrigger" or zone.endswith("cross-member"),
    "cabin": lambda zone: zone in ("floor-pan", "bulkhead"),
}
"""What a place was by its id before maps had these keys."""


def completed(sheet: MapFile) -> MapFile:
    """The map with the keys that it does not have at all as they follow from its places' ids.

    So a log's own copy, or a shop's own map, that was written before there were such keys gives the
    verdict that it gave then. One zone with the key, true or false, and the map speaks for itself.
    """
    lacks = [key for key in _MEANT if not any(key in row.model_fields_set for row in sheet.zone)]
    rows = [
        row.model_copy(update={key: _MEANT[key](row.id) for key in lacks}) for row in sheet.zone
    ]
    return sheet.model_copy(update={"zone": rows})
