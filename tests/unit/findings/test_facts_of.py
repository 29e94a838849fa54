"""The facts that rules look at: distance, loss, words."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from voicelog.domain.entry import Question
from voicelog.domain.grade import RuleSet
from voicelog.domain.slot import Slots
from voicelog.domain.zone import ZoneMap
from voicelog.findings.facts_of import DEFAULT_LIMITS, FactFinder, is_rot, number, wall_loss
from voicelog.findings.landmarks import Landmarks


@pytest.fixture
def finder(zone_map: ZoneMap) -> FactFinder:
    """Under the default limits."""
    return FactFinder(zone_map, {})


@pytest.mark.parametrize(
    ("distance_mm", "landmark", "near"),
    [
        (299.0, "", True),
        (300.0, "", True),
        (300.1, "", False),
        (301.0, "", False),
        (304.8, "from the spring hanger", False),
        (304.8, "about a foot from the spring hanger", True),
        (330.0, "roughly, ahead of the hanger", True),
        (330.1, "about, ahead of the hanger", False),
        (304.8, "aboutish", False),
        (100.0, "from the cab mount", False),
        (100.0, "from the cab mount and the shock mount", True),
        (100.0, "from the blue thing", True),
        (100.0, "ahead of the spring hanger", True),
        (100.0, "from the hanger", True),
        (100.0, "from the tank hanger", False),
        (100.0, "from the hitch cross member", False),
        (100.0, "from the chassis rail", False),
    ],
)
def test_near_a_mounting(
    distance_mm: float, landmark: str, near: bool, finder: FactFinder, make: object
) -> None:
    """30 cm is in, more is out; an approximate distance may be a tenth over.

    UK MOT inspection manual, Appendix A: within 30 cm. A landmark that names only places which
    are no critical mounting does not count; one that nobody understands does.
    """
    entry = make(zone="mid-rail", mount_distance_mm=distance_mm, landmark=landmark)  # type: ignore[operator]
    (facts,) = finder.facts(entry, "")
    assert facts.near_mount is near
    assert facts.distance_known


def test_on_a_map_without_names_every_landmark_may_be_a_mounting(zone_map: ZoneMap) -> None:
    """Doubt never softens a grade."""
    nameless = Landmarks(replace(zone_map, zones={}, families=()))
    assert nameless.may_be_critical("the cab mount")
    assert nameless.may_be_critical("")


def test_at_a_mounting_is_near(finder: FactFinder, make: object) -> None:
    """A critical mounting needs no distance; other places without one are not near."""
    (mount,) = finder.facts(make(zone="shock-mount"), "")  # type: ignore[operator]
    (rail,) = finder.facts(make(zone="mid-rail"), "")  # type: ignore[operator]
    assert (mount.near_mount, mount.distance_known) == (True, False)
    assert rail.near_mount is False


@pytest.mark.parametrize(
    ("slots", "nominal_mm", "loss"),
    [
        # NVIC 7-68 in TB 55-1900-201-45/1, E-11: new 0.1875 in plate can measure 0.205 in.
        ({"thickness_mm": 0.1406, "nominal_mm": 0.1875}, None, 25.013333),
        ({"thickness_mm": 0.205, "nominal_mm": 0.1875}, None, -9.333333),
        ({"thickness_mm": 2.0}, None, None),
        ({"thickness_mm": 2.0}, 4.0, 50.0),
        ({"thickness_mm": 3.0, "loss_percent": 40.0}, 4.0, 40.0),
        ({"thickness_mm": 2.0, "loss_percent": 40.0}, 4.0, 50.0),
        ({"thickness_mm": 3.0, "nominal_mm": 4.0, "loss_percent": 90.0}, None, 25.0),
        ({"loss_percent": 12}, None, 12.0),
        ({"thickness_mm": 2.0, "nominal_mm": 0.0}, None, None),
        ({"thickness_mm": 1.02, "nominal_mm": 1.2}, None, 15.0),
        ({"thickness_mm": 0.0}, 4.0, 100.0),
        ({"thickness_mm": -0.5}, 4.0, None),
    ],
)
def test_wall_loss(
    slots: Slots, nominal_mm: float | None, loss: float | None, zone_map: ZoneMap
) -> None:
    """(nominal - measured) / nominal; what was measured against what was said counts first.

    Nothing left is all of it lost; less than nothing is no reading.
    """
    zone = replace(zone_map["mid-rail"], nominal_mm=nominal_mm)
    assert wall_loss(slots, zone) == loss


@pytest.mark.parametrize("value", ["12", True, float("nan"), float("inf")])
def test_only_finite_numbers_are_numbers(value: object) -> None:
    """Text, truth values, NaN and infinity are no measure."""
    assert number({"size_mm": value}, "size_mm") is None  # type: ignore[dict-item]


@pytest.mark.parametrize(
    ("slots", "rotten"),
    [
        ({"condition": "hole"}, True),
        ({"condition": "scale"}, False),
        ({"condition": "scale", "probe": "soft"}, True),
        ({"condition": "scale", "probe": "dents"}, False),
        ({"condition": "thinning", "loss_percent": 25.0}, True),
        ({"condition": "thinning", "loss_percent": 24.9}, False),
    ],
)
def test_rot(slots: Slots, rotten: bool) -> None:
    """Metal that is gone or gives way."""
    assert is_rot(slots, None, {}) is rotten


def test_the_limits_of_a_table_that_gives_none_are_the_shipped_ones(rules: RuleSet) -> None:
    """A shop's table that leaves one out grades as the shipped one does."""
    assert {name: rules.limits[name] for name in DEFAULT_LIMITS} == DEFAULT_LIMITS


def test_what_closes_the_cabin_and_what_carries_the_vehicle(finder: FactFinder, make: Any) -> None:
    """Neither is said of any other place, nor of one that nobody knows."""
    told = {
        zone: (facts.main_member, facts.cabin)
        for zone in ("mid-rail", "floor-pan", "outrigger")
        for facts in finder.facts(make(zone=zone, condition="hole"), "")
    }
    assert told == {
        "mid-rail": (True, False), "floor-pan": (False, True), "outrigger": (False, False),
    }  # fmt: skip
    asked = make(condition="hole", questions=(Question("zone", ("floor-pan", "mid-rail", "sill")),))
    flags = [(facts.main_member, facts.cabin) for facts in finder.facts(asked, "")]
    assert flags == [(False, True), (True, False), (False, False)]


def test_a_finding_of_several_places_is_at_each_what_it_would_be_there(
    zone_map: ZoneMap, make: Any
) -> None:
    """Role, nearness, loss, member and cabin are the place's own, whichever is asked for first."""
    zones = ("floor-pan", "mid-rail", "shock-mount", "bulkhead", "sill")
    thick = {name: replace(zone_map[name], nominal_mm=2.0 + len(name)) for name in zones}
    finder = FactFinder(replace(zone_map, zones={**zone_map.zones, **thick}), {})
    slots = {"condition": "thinning", "thickness_mm": 1.5}
    for first in zones:
        order = (first, *(name for name in zones if name != first))
        asked = make(questions=(Question("zone", order),), **slots)
        alone = [finder.facts(make(zone=name, **slots), "thin") for name in order]
        assert [(facts,) for facts in finder.facts(asked, "thin")] == alone
