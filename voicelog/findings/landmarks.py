"""Landmarks: whether "ahead of the spring hanger" may mean a critical mounting."""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import cached_property

from voicelog.domain.zone import Role, ZoneMap

_APPROXIMATE = re.compile(r"(about|roughly|approximately|approx|circa)\b")


def is_approximate(landmark: str) -> bool:
    """True when a landmark in lower case begins by saying that its distance is no exact one."""
    return _APPROXIMATE.match(landmark) is not None


class Landmarks:
    """The map's spoken names, and which of them may be critical mountings."""

    def __init__(self, zone_map: ZoneMap) -> None:
        names: dict[str, bool] = {}
        for name, critical in _names(zone_map):
            names[name] = names.get(name, False) or critical
        self._critical = names

    @cached_property
    def _pattern(self) -> re.Pattern[str]:
        """Any name, the longest that fits; made only when a landmark is said, for it takes a while."""
        longest_first = sorted(self._critical, key=len, reverse=True)
        return re.compile(rf"\b({'|'.join(map(re.escape, longest_first))})\b")

    def may_be_critical(self, landmark: str) -> bool:
        """True unless the landmark names places of the map, none of them a critical mounting.

        A landmark that nobody understands counts as critical: doubt never softens a grade.

        Args:
            landmark: free text in lower case.
        """
        named = self._pattern.findall(landmark) if landmark and self._critical else []
        return not named or any(self._critical[name] for name in named)


def _names(zone_map: ZoneMap) -> Iterator[tuple[str, bool]]:
    """Every spoken name and title of the map, and whether it may be a critical mounting."""
    critical = {zone.id for zone in zone_map.zones.values() if zone.role is Role.CRITICAL}
    for zone in zone_map.zones.values():
        spoken = (*zone.say, zone.title, zone.id.replace("-", " "))
        yield from ((name.lower(), zone.id in critical) for name in spoken if name)
    for family in zone_map.families:
        yield from ((name.lower(), not critical.isdisjoint(family.zones)) for name in family.say)
