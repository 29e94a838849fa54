"""A whole inspection as it stood at one moment, its parts worked out when somebody looks at them."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cached_property

from voicelog.domain.entry import Finding
from voicelog.domain.layers import Layers
from voicelog.domain.zone import Rails, ZoneMap
from voicelog.findings.coverage import Coverage, cover
from voicelog.findings.verdict import judge


class Whole:
    """An inspection as it stood once; nothing in it changes any more.

    Args:
        standing: every entry, in order.
        lost: numbers of the lines that could not be recovered.
        zone_map: the places.
        limits: the severity table's numbers.
        rails: how the vehicle's rails are made.
    """

    def __init__(
        self,
        standing: Layers[Finding],
        lost: tuple[int, ...],
        zone_map: ZoneMap,
        limits: Mapping[str, float],
        rails: Rails,
    ) -> None:
        self._standing, self._lost = standing, lost
        self._zone_map, self._limits, self._rails = zone_map, limits, rails

    def part(self, name: str) -> object:
        """A part of the inspection by its name there."""
        match name:
            case "findings":
                return self._findings
            case "coverage":
                return self._coverage.seen
            case "gaps":
                return self._coverage.gaps
            case "verdict":
                return judge(
                    self._findings, self._coverage, self._zone_map, self._rails, self._limits,
                    self._lost,
                )  # fmt: skip
        return self._lost

    @cached_property
    def _findings(self) -> tuple[Finding, ...]:
        return tuple(self._standing.values())

    @cached_property
    def _coverage(self) -> Coverage:
        return cover(self._findings, self._zone_map, self._rails)
