"""The plan: every place on it, on its side, with its state."""

from __future__ import annotations

from typing import Any

import pytest

from voicelog.config.grammar import load_grammar
from voicelog.domain.zone import ZoneMap
from voicelog.tui.looks import CAVITY, GRADES, SEEN
from voicelog.tui.plan import Grid, Spot, draw, hidden, states

LEAST_ROWS = 11
"""What the shipped map needs, for every place to be seen."""


def _spots(grid: Grid) -> list[tuple[int, int, Spot]]:
    return [
        (row, column, spot)
        for row, spots in enumerate(grid)
        for column, spot in enumerate(spots)
        if spot is not None
    ]


def _drawn(zone_map: ZoneMap, width: int = 62, height: int = 30, **more: Any) -> Grid:
    given = {"state": {}, "cavities": set(), "here": {}} | more
    return draw(zone_map, given["state"], given["cavities"], given["here"], width, height)


@pytest.mark.parametrize("width", [24, 42, 52, 62, 120])
@pytest.mark.parametrize("height", [LEAST_ROWS, 13, 16, 27, 60])
def test_no_place_is_ever_hidden(stage: Any, width: int, height: int) -> None:
    """A place that cannot be seen on the plan would be forgotten."""
    zone_map = stage.grammar.zone_map
    wanted = {(zone.id, side) for zone in zone_map.zones.values() for side in zone.sides()}
    assert {spot.place for _, _, spot in _spots(_drawn(zone_map, width, height))} == wanted


@pytest.mark.parametrize("width", [42, 54, 62, 120])
@pytest.mark.parametrize("height", [15, 16, 27, 60])
@pytest.mark.parametrize("map_id", ["unibody", "backbone"])
def test_no_place_of_the_other_maps_is_hidden(map_id: str, width: int, height: int) -> None:
    """They have more places; a window of 80 by 24 gives the plan 54 by 16."""
    zone_map = load_grammar(map_id).zone_map
    wanted = {(zone.id, side) for zone in zone_map.zones.values() for side in zone.sides()}
    assert {spot.place for _, _, spot in _spots(_drawn(zone_map, width, height))} == wanted


def test_the_right_side_mirrors_the_left(stage: Any) -> None:
    """To the very character: what is left of the middle on one side is right of it on the other."""
    grid = _drawn(stage.grammar.zone_map)
    cells = {(row, column): spot.place for row, column, spot in _spots(grid)}
    pairs = {at: place for at, place in cells.items() if place[1] == "left"}
    assert pairs
    mirrored = {(row, 61 - column): (zone, "right") for (row, column), (zone, _) in pairs.items()}
    assert mirrored.items() <= cells.items()


def test_the_front_is_at_the_top(stage: Any) -> None:
    """A frame horn is above a rail, a tow hitch below."""
    rows: dict[str, int] = {}
    for row, _, spot in _spots(_drawn(stage.grammar.zone_map)):
        rows.setdefault(spot.place[0], row)
    assert rows["frame-horn"] < rows["front-rail"] < rows["rear-rail"] < rows["tow-hitch"]


def test_states_follow_what_was_said(stage: Any) -> None:
    """Nothing, a look, a probe, an excuse, a fault: each on the side that was said."""
    inspection = stage.inspection(
        "left front rail clean", "right front rail clean, scraped it, firm",
        "can't get to the tow hitch", "left control arm mount, hole, about an inch",
    )  # fmt: skip
    told = states(inspection, stage.grammar.zone_map)
    assert told["front-rail", "left"] == "looked"
    assert told["front-rail", "right"] == "probed"
    assert told["tow-hitch", None] == "refused"
    assert told["control-arm-mount", "left"] == "unsafe"
    assert told["control-arm-mount", "right"] == "unseen"


def test_the_worst_fault_counts(stage: Any) -> None:
    """A cosmetic finding beside an unsafe one does not hide it, in whatever order they come."""
    hole = "left control arm mount, hole, about an inch"
    rust = "left control arm mount, surface rust"
    for lines in ((hole, rust), (rust, "next item", hole)):
        told = states(stage.inspection(*lines), stage.grammar.zone_map)
        assert told["control-arm-mount", "left"] == "unsafe"


def test_what_was_withdrawn_is_no_fault(stage: Any) -> None:
    """After *disregard* the place is as it was."""
    inspection = stage.inspection("left control arm mount, hole, about an inch", "disregard")
    told = states(inspection, stage.grammar.zone_map)
    assert told["control-arm-mount", "left"] == "unseen"


def test_a_cavity_nobody_looked_into_has_a_sign_of_its_own(stage: Any) -> None:
    """It is there until somebody looks inside."""
    before = hidden(stage.inspection("left kick up, clean"))
    after = hidden(stage.inspection("inside the left kick up, clean, scoped it"))
    assert ("kick-up", "left") in before
    assert ("kick-up", "left") not in after
    grid = _drawn(stage.grammar.zone_map, cavities={("kick-up", "left")})
    marked = [spot.place for _, _, spot in _spots(grid) if spot.cavity]
    assert marked == [("kick-up", "left")]


def test_where_the_inspector_is_stays_readable(stage: Any) -> None:
    """Only every other character is covered, so that the state's sign can be read."""
    grid = _drawn(stage.grammar.zone_map, here={"zone": "front-rail", "side": "left"})
    spots = [spot for _, _, spot in _spots(grid) if spot.place == ("front-rail", "left")]
    assert {spot.here for spot in spots} == {True, False}
    others = [s for _, _, s in _spots(grid) if s.here and s.place != ("front-rail", "left")]
    assert not others


def test_a_zone_without_a_place_on_the_plan_is_left_out(stage: Any) -> None:
    """A shop's own map may leave it open."""
    assert _spots(_drawn(ZoneMap("none", "No places", {}))) == []


def test_signs_differ() -> None:
    """Without any colour every state can be told from every other."""
    signs = [look.sign for look in (*SEEN.values(), *GRADES.values(), CAVITY)]
    assert len(set(signs)) == len(signs)
