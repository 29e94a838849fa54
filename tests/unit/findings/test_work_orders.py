"""What an item of the work list forbids, and what it says where the table says nothing."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import Any

import pytest

from voicelog.domain.advice import WorkItem
from voicelog.domain.entry import Entry, Inspection
from voicelog.domain.grade import RuleSet, WorkRule
from voicelog.domain.zone import Rails, ZoneMap
from voicelog.findings.work_list import HALT, work_list

Listed = Callable[..., tuple[WorkItem, ...]]
Make = Callable[..., Entry]


@pytest.fixture
def listed(inspect: Callable[..., Inspection], zone_map: ZoneMap, rules: RuleSet) -> Listed:
    """The work list of some entries; ``table`` can be another."""

    def work_of(*entries: Entry, table: RuleSet = rules) -> Any:
        return work_list(inspect(*entries), zone_map, table, Rails.OPEN)

    return work_of


def _told(items: tuple[WorkItem, ...]) -> list[WorkItem]:
    return [item for item in items if item.entry]


@pytest.mark.parametrize(
    ("condition", "urgency"), [("scale", "repair"), ("blistering", "treat"), ("staining", "look")]
)
def test_what_forbids_nothing_does_not_say_so(
    condition: str, urgency: str, listed: Listed, make: Make
) -> None:
    """Whoever reads it in front of every item heeds it nowhere."""
    (item,) = _told(listed(make(zone="cab-mount", side="left", condition=condition)))
    assert item.urgency == urgency
    assert HALT not in item.cautions


def test_what_a_shop_does_first_keeps_the_vehicle_where_it_is(
    listed: Listed, make: Make, rules: RuleSet
) -> None:
    """A rule of its own that says now, of a finding that no grade forbids driving for."""
    own = replace(rules, work=(WorkRule("ours", ("Call us.",), "ours", {}, urgency="now"),))
    (item,) = _told(listed(make(zone="sill", side="left", condition="blistering"), table=own))
    assert (item.urgency, item.cautions) == ("now", (HALT,))


def test_an_open_place_says_where_its_steps_come_from(listed: Listed, rules: RuleSet) -> None:
    """The source of the rule; a table without work gives a plain sentence."""
    sources = {rule.id: rule.source for rule in rules.work}
    steps = {rule.id: rule.steps for rule in rules.work}
    mount = next(item for item in listed() if item.zone == "shock-mount")
    assert (mount.source, mount.steps) == (sources["look-at-mounting"], steps["look-at-mounting"])
    (plain,) = {(one.source, one.steps) for one in listed(table=replace(rules, work=()))}
    assert plain == (
        "common practice, no source", ("Look at it, or listen to what was said of it.",)
    )  # fmt: skip


def test_a_lost_rail_is_told_of_by_a_table_without_work(
    listed: Listed, make: Make, rules: RuleSet
) -> None:
    """A shipped rule for a rail without solid metal tells of the specialist itself; an older table has
    none, so the list says it first.
    """
    hole = make(zone="mid-rail", side="left", condition="hole", surround="none")
    (by_rule,) = _told(listed(hole))
    assert by_rule.steps[0].startswith("Patch nothing here")
    (plain,) = _told(listed(hole, table=replace(rules, work=())))
    assert plain.steps[0].startswith("Repair nothing here before a structural specialist")


def test_an_item_names_its_side(listed: Listed, make: Make) -> None:
    """And none where none was said."""
    said = make(zone="sill", side="right", condition="hole")
    unsaid = make(zone="wheel-arch", condition="hole")
    sides = {item.entry: item.side for item in _told(listed(said, unsaid))}
    assert sides == {said.id: "right", unsaid.id: None}
