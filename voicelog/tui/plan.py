"""The plan of the vehicle as a grid of characters: each place with its state, side by side."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass

from voicelog.domain.entry import Inspection
from voicelog.domain.grade import Grade
from voicelog.domain.slot import Slots
from voicelog.domain.zone import ZoneMap
from voicelog.findings.coverage import Place, places
from voicelog.findings.place_findings import at_places, refused


@dataclass(frozen=True, slots=True)
class Spot:
    """One character of the plan.

    Args:
        place: zone and side drawn there.
        state: a grade, or ``unseen``, ``refused``, ``looked`` or ``probed``.
        cavity: the character stands for a cavity nobody has looked into.
        here: the inspector is there now; only every other character says so.
        last: it lies in the place's last row, which is drawn with an edge.
    """

    place: Place
    state: str
    cavity: bool = False
    here: bool = False
    last: bool = False


Grid = tuple[tuple[Spot | None, ...], ...]
"""Rows of the plan from the front, left side of the vehicle first; None where nothing is."""


def states(inspection: Inspection, zone_map: ZoneMap) -> dict[Place, str]:
    """Each place's worst fault; else what was done there."""
    could_not = refused(inspection)
    found = {place: _done(inspection, place, could_not) for _, place in places(zone_map)}
    worst: dict[Place, Grade] = {}
    for place, finding in at_places(inspection.live, zone_map):
        if finding.grade is not None:
            worst[place] = Grade.worst(finding.grade, worst.get(place, finding.grade))
    return found | {place: str(grade) for place, grade in worst.items()}


def _done(inspection: Inspection, place: Place, could_not: Collection[Place]) -> str:
    seen = inspection.coverage.get(place)
    if seen is not None and seen.looked:
        return "probed" if seen.probed else "looked"
    return "refused" if place in could_not else "unseen"


def hidden(inspection: Inspection) -> set[Place]:
    """The places whose cavity nobody has looked into."""
    return {place for place, seen in inspection.coverage.items() if seen.inside is False}


def draw(
    zone_map: ZoneMap,
    state: Mapping[Place, str],
    cavities: set[Place],
    here: Slots,
    width: int,
    height: int,
) -> Grid:
    """The plan on so many columns and rows.

    Every place gets at least one character; where two meet, the smaller one lies on top.

    Args:
        zone_map: where the places lie.
        state: of each place, as :func:`states` gives it.
        cavities: places with a cavity nobody has looked into.
        here: where the inspector is.
        width: columns.
        height: rows.
    """
    grid: list[list[Spot | None]] = [[None] * width for _ in range(height)]
    boxes = _boxes(zone_map, width, height)
    for place, box in sorted(boxes, key=lambda item: -len(item[1][0]) * len(item[1][1])):
        spot = Spot(place, state.get(place, "unseen"), here=_is_here(place, here))
        _fill(grid, box, spot, cavity=place in cavities)
    return tuple(tuple(row) for row in grid)


Box = tuple[range, range]
"""Columns and rows."""


def _boxes(zone_map: ZoneMap, width: int, height: int) -> Iterator[tuple[Place, Box]]:
    for zone in zone_map.zones.values():
        if zone.plan is not None:
            for side in zone.sides():
                yield (zone.id, side), _box(zone.plan, side, width, height)


def _box(plan: tuple[float, float, float, float], side: str | None, width: int, height: int) -> Box:
    x, y, wide, high = plan
    columns = _cells(x, wide, width)
    if len(columns) > 2:  # a gap, so that neighbours do not run together
        columns = columns[:-1]
    if side == "right":  # the mirror image, to the very character
        columns = range(width - columns.stop, width - columns.start)
    return columns, _cells(y, high, height)


def _cells(start: float, length: float, cells: int) -> range:
    """From percent to at least one cell, within the grid."""
    first = min(int(start * cells / 100), cells - 1)
    return range(max(first, 0), min(max(first + 1, round((start + length) * cells / 100)), cells))


def _fill(grid: list[list[Spot | None]], box: Box, spot: Spot, *, cavity: bool) -> None:
    columns, rows = box
    middle = (rows[len(rows) // 2], columns[len(columns) // 2])
    for row in rows:
        for column in columns:
            hollow = cavity and (row, column) == middle
            here = spot.here and ((row + column) % 2 == 0 or len(columns) == 1)
            grid[row][column] = Spot(spot.place, spot.state, hollow, here, row == rows[-1])


def _is_here(place: Place, here: Slots) -> bool:
    side = here.get("side")
    return here.get("zone") == place[0] and (place[1] is None or side in (place[1], "both"))
