"""Wall loss, and how well it is known."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

import pytest

from voicelog.domain.advice import WallLoss
from voicelog.domain.grade import RuleSet
from voicelog.domain.slot import Slots
from voicelog.domain.zone import ZoneMap
from voicelog.findings.facts_of import wall_loss
from voicelog.findings.thickness import loss_in_words, loss_of, nominal_of


def told(slots: Slots, zone_map: ZoneMap, limits: Mapping[str, float], zone: str) -> WallLoss:
    """The loss at a place, which there is."""
    loss = loss_of(slots, zone_map[zone], limits)
    assert loss is not None
    return loss


def test_a_reading_has_a_range(zone_map: ZoneMap, rules: RuleSet) -> None:
    """2.4 mm of 3 mm, plus or minus 0.1 mm: from a sixth to 23.3 %."""
    loss = told({"thickness_mm": 2.4, "nominal_mm": 3.0}, zone_map, rules.limits, "mid-rail")
    assert (loss.percent, loss.measured_mm, loss.nominal_mm) == (20.0, 2.4, 3.0)
    assert (round(loss.low, 1), round(loss.high, 1)) == (16.7, 23.3)
    assert (loss.nominal_from, loss.uncertainty_mm, loss.straddles) == ("said", 0.1, ())


@pytest.mark.parametrize(
    ("measured_mm", "within"),
    [(2.36, ()), (2.34, ("wall_loss_percent",)), (2.25, ("wall_loss_percent",)), (2.14, ())],
)
def test_a_limit_is_open_on_both_sides_of_the_reading(
    measured_mm: float, within: tuple[str, ...], zone_map: ZoneMap, rules: RuleSet
) -> None:
    """25 % of 3 mm leaves 2.25 mm: a reading within 0.1 mm of it decides nothing."""
    slots = {"thickness_mm": measured_mm, "nominal_mm": 3.0}
    assert told(slots, zone_map, rules.limits, "mid-rail").straddles == within


@pytest.mark.parametrize(("measured_mm", "within"), [(3.1, ("wall_loss_percent",)), (2.9, ())])
def test_a_limit_at_an_end_of_the_range(
    measured_mm: float, within: tuple[str, ...], zone_map: ZoneMap, rules: RuleSet
) -> None:
    """As much as the limit is over it: at the high end nothing is decided yet, at the low end it is."""
    slots = {"thickness_mm": measured_mm, "nominal_mm": 4.0}
    loss = told(slots, zone_map, rules.limits, "mid-rail")
    assert 25.0 in (loss.low, loss.high)
    assert loss.straddles == within


def test_a_limit_counts_only_where_it_matters(zone_map: ZoneMap, rules: RuleSet) -> None:
    """15 % at a critical mounting, a third at a pipe; neither at a rail."""
    slots = {"thickness_mm": 3.4, "nominal_mm": 4.0}
    assert told(slots, zone_map, rules.limits, "mid-rail").straddles == ()
    at_mount = told(slots, zone_map, rules.limits, "shock-mount")
    assert at_mount.straddles == ("wall_loss_critical_percent",)
    pipe = told({"thickness_mm": 0.5, "nominal_mm": 0.75}, zone_map, rules.limits, "brake-line")
    assert pipe.straddles == ("wall_loss_percent", "pipe_wall_loss_percent")


def test_a_share_that_was_only_said_has_no_range(zone_map: ZoneMap, rules: RuleSet) -> None:
    """Nobody knows how it was come by."""
    loss = told({"loss_percent": 25.0}, zone_map, rules.limits, "mid-rail")
    assert loss == WallLoss(25.0, 25.0, 25.0)
    assert loss_of({"thickness_mm": 2.0}, zone_map["mid-rail"], rules.limits) is None
    assert loss_of({}, None, {}) is None


def test_the_maps_nominal_counts_where_none_was_said(zone_map: ZoneMap) -> None:
    """And a share said that is worse stands alone."""
    zone = replace(zone_map["mid-rail"], nominal_mm=2.0)
    by_map = loss_of({"thickness_mm": 1.5}, zone, {})
    assert by_map is not None
    assert (by_map.percent, by_map.nominal_from) == (25.0, "map")
    for worse in (26.0, 40.0):
        alone = WallLoss(worse, worse, worse)
        assert loss_of({"thickness_mm": 1.5, "loss_percent": worse}, zone, {}) == alone


@pytest.mark.parametrize("nominal_mm", [0.0, -0.5])
def test_a_nominal_that_is_none_is_not_taken(nominal_mm: float, zone_map: ZoneMap) -> None:
    """New metal of no thickness: the map knows better."""
    zone = replace(zone_map["mid-rail"], nominal_mm=2.0)
    assert nominal_of({"nominal_mm": nominal_mm}, zone) == (2.0, "map")
    assert nominal_of({"nominal_mm": nominal_mm}, None) == (None, "")


def test_less_than_nothing_is_no_reading(zone_map: ZoneMap) -> None:
    """Then the share that was said stands alone."""
    slots = {"thickness_mm": -0.5, "nominal_mm": 3.0, "loss_percent": 10.0}
    assert told(slots, zone_map, {}, "mid-rail") == WallLoss(10, 10, 10)


@pytest.mark.parametrize("measured_mm", [0.05, 0.5, 2.0, 3.2])
def test_it_is_the_loss_that_the_rules_use(measured_mm: float, zone_map: ZoneMap) -> None:
    """Within its range, which is never wider than all of the wall."""
    slots = {"thickness_mm": measured_mm, "nominal_mm": 3.0}
    loss = told(slots, zone_map, {"gauge_uncertainty_mm": 0.2}, "mid-rail")
    assert loss.percent == wall_loss(slots, zone_map["mid-rail"])
    assert loss.low <= loss.percent <= loss.high <= 100


def test_a_shop_may_have_a_better_gauge(zone_map: ZoneMap, rules: RuleSet) -> None:
    """A limit of its own; with none at all a reading is taken as it is."""
    slots, limits = {"thickness_mm": 2.26, "nominal_mm": 3.0}, dict(rules.limits)
    exact = told(slots, zone_map, limits | {"gauge_uncertainty_mm": 0}, "mid-rail")
    assert (exact.low, exact.high, exact.straddles) == (exact.percent, exact.percent, ())
    assert told(slots, zone_map, limits, "mid-rail").straddles


def test_in_words(zone_map: ZoneMap, rules: RuleSet) -> None:
    """The reading, its range, and that it decides nothing where that is so."""
    slots = {"thickness_mm": 2.3, "nominal_mm": 3.0}
    loss = told(slots, zone_map, rules.limits, "mid-rail")
    assert loss_in_words(loss, rules.limits) == (
        "2.3 mm of 3 mm: 23.3 % of the wall lost, 20.0 to 26.7 % within the gauge's ±0.1 mm. "
        "The reading does not decide the limit of 25 %: measure again."
    )
    more = told({"thickness_mm": 3.3, "nominal_mm": 3.0}, zone_map, rules.limits, "mid-rail")
    assert loss_in_words(more, rules.limits) == (
        "3.3 mm of 3 mm: 10.0 % over nominal, so one of the two numbers is off, or coating or rust "
        "was measured too."
    )
    assert loss_in_words(WallLoss(25, 25, 25), {}) == "25.0 % of the wall is said to be lost."
