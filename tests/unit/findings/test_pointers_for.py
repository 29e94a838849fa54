"""Pointers: which public rules are shown for which finding, and that they stay pointers."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import replace
from typing import Any

import pytest

from voicelog.config.pointers import with_pointers
from voicelog.domain.advice import Pointer
from voicelog.domain.entry import Entry, Finding, Inspection, Kind
from voicelog.domain.grade import REGIONS, PointerRule, RuleSet
from voicelog.domain.zone import ZoneMap
from voicelog.errors import GrammarFault
from voicelog.findings.pointers import Pointing

Points = Callable[..., list[str]]


def pointers_for(
    finding: Finding, zone_map: ZoneMap, rules: RuleSet, regions: Iterable[str]
) -> tuple[Pointer, ...]:
    """What inspectors of these regions would look up for one finding."""
    return Pointing(zone_map, rules, regions).at(finding)


@pytest.fixture(scope="module")
def pointing(rules: RuleSet) -> RuleSet:
    """The shipped table with all shipped pointers beside it."""
    return with_pointers(rules)


@pytest.fixture
def points(
    inspect: Callable[..., Inspection], make: Any, zone_map: ZoneMap, pointing: RuleSet
) -> Points:
    """Items that inspectors of a region would look up for a finding with these slots."""

    def items(region: str, kind: Kind = Kind.FINDING, **slots: Any) -> list[str]:
        (finding,) = inspect(make(kind, **slots)).findings
        return [p.item for p in pointers_for(finding, zone_map, pointing, [region])]

    return items


@pytest.mark.parametrize(
    ("region", "slots", "expected"),
    [
        ("uk", {"zone": "mid-rail", "condition": "hole"}, ["Appendix A", "6.1.1"]),
        ("uk", {"zone": "shock-mount", "condition": "hole"}, ["Appendix A"]),
        ("uk", {"zone": "brake-line", "condition": "pitting"}, ["1.1.11"]),
        ("uk", {"zone": "floor-pan", "condition": "hole"}, ["Appendix A", "6.1.2"]),
        ("uk", {"zone": "seat-belt-anchor", "condition": "hole"}, ["Appendix A", "7.1.1"]),
        ("uk", {"zone": "mid-rail", "condition": "hole", "landmark": "by the brake servo"},
         ["Appendix A", "6.1.1", "1.1.21"]),
        ("us", {"zone": "fuel-tank", "condition": "hole"}, ["393.65", "393.67"]),
        ("us", {"zone": "mid-rail", "condition": "crack"}, ["393.201", "11.22.04.08", "175.78", "79.21"]),
        ("us", {"zone": "floor-pan", "condition": "hole"}, ["19VAC30-70-640", "175.77"]),
        ("nz", {"zone": "kick-up", "condition": "blistering"}, ["3-1"]),
        ("nz", {"zone": "kick-up", "condition": "hole"}, ["3-1", "3-4"]),
        ("eu", {"zone": "outrigger", "condition": "crack"}, ["6.1.1"]),
        ("ca", {"zone": "outrigger", "condition": "crack"}, ["Schedule 1, part 11", "section 98"]),
        ("au", {"zone": "tow-hitch", "condition": "hole"}, ["section 4.2", "section 5.1"]),
        ("uk", {"zone": "mid-rail", "condition": "oil-film"}, []),
    ],
)  # fmt: skip
def test_what_would_be_looked_up(
    region: str, slots: dict[str, Any], expected: list[str], points: Points
) -> None:
    """All that fit, in the order of the file."""
    assert points(region, **slots) == expected


def test_only_the_regions_asked_for_are_shown_in_their_order(
    inspect: Callable[..., Inspection], make: Any, zone_map: ZoneMap, pointing: RuleSet
) -> None:
    """None of them gives nothing; one that nobody knows gives nothing either."""
    (finding,) = inspect(make(zone="mid-rail", condition="crack")).findings
    shown = pointers_for(finding, zone_map, pointing, ["nz", "uk", "nz"])
    assert [p.region for p in shown] == ["nz", "nz", "uk"]
    assert pointers_for(finding, zone_map, pointing, []) == ()
    assert pointers_for(finding, zone_map, pointing, ["moon"]) == ()


def test_a_table_without_pointers_shows_none(
    inspect: Callable[..., Inspection], make: Any, zone_map: ZoneMap, rules: RuleSet
) -> None:
    """A log's own table has none; they are the reading program's."""
    (finding,) = inspect(make(zone="mid-rail", condition="crack")).findings
    assert pointers_for(finding, zone_map, rules, REGIONS) == ()


def test_nothing_is_looked_up_for_what_is_no_finding(points: Points) -> None:
    """A clear has no fault; a withdrawn finding no longer holds."""
    assert points("uk", Kind.CLEAR, zone="mid-rail", side="left") == []


def test_a_withdrawn_finding_points_at_nothing(zone_map: ZoneMap, pointing: RuleSet) -> None:
    """It no longer holds."""
    entry = Entry("e1.1", "u1", "", Kind.FINDING, {"zone": "mid-rail", "condition": "crack"})
    assert pointers_for(Finding(entry, withdrawn=True), zone_map, pointing, ["uk"]) == ()


def test_a_pointer_that_cannot_be_tried_is_refused(zone_map: ZoneMap, rules: RuleSet) -> None:
    """By its name, so that it can be found."""
    for when in ({"grade": "repair"}, {"unproven": "yes"}, {"colour": ("red",)}):
        odd = PointerRule("uk", "A manual", "9.9", "Odd.", "", "issuer", when)
        entry = Entry("e1.1", "u1", "", Kind.FINDING, {"zone": "mid-rail", "condition": "crack"})
        with pytest.raises(GrammarFault) as caught:
            pointers_for(Finding(entry), zone_map, replace(rules, pointers=(odd,)), ["uk"])
        assert "9.9" in caught.value.message
