"""Every place of the map, all that was said of it together."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest

from voicelog.domain.advice import PlaceState
from voicelog.domain.entry import Entry, Inspection, Kind
from voicelog.domain.grade import Grade
from voicelog.domain.zone import ZoneMap
from voicelog.findings.coverage import Place, places
from voicelog.findings.place_findings import nowhere
from voicelog.findings.place_states import place_states

States = Callable[..., dict[Place, PlaceState]]


@pytest.fixture
def states(inspect: Callable[..., Inspection], zone_map: ZoneMap) -> States:
    """Place to its state, after these entries."""

    def of_entries(*entries: Entry) -> dict[Place, PlaceState]:
        told = place_states(inspect(*entries), zone_map)
        return {(state.zone, state.side): state for state in told}

    return of_entries


def test_every_place_is_there_in_the_order_of_the_walk(states: States, zone_map: ZoneMap) -> None:
    """An empty log has seen none of them."""
    told = states()
    assert list(told) == [place for _, place in places(zone_map)]
    assert all(state.grade is None and not state.seen.looked for state in told.values())


def test_several_findings_of_one_place_come_together(states: States, make: Any) -> None:
    """The worst grade of all, their ids with the worst first; other places have no part in it."""
    rust = make(zone="mid-rail", side="left", condition="surface-rust")
    hole = make(zone="mid-rail", side="left", condition="hole")
    flakes = make(zone="mid-rail", side="both", condition="peeling-coating")
    told = states(rust, hole, flakes)
    left, right = told["mid-rail", "left"], told["mid-rail", "right"]
    assert (left.grade, left.entries) == (Grade.REPAIR, (hole.id, flakes.id, rust.id))
    assert (right.grade, right.entries) == (Grade.TREAT, (flakes.id,))
    assert (left.unproven, right.unproven) == (False, True)  # the hole gives the grade, and is seen


def test_the_worse_of_two_grades_counts(states: States, make: Any) -> None:
    """Whoever gave it, the rules or the inspector."""
    called_less = make(zone="sill", side="left", condition="hole", spoken_grade="treat")
    called_more = make(zone="sill", side="right", condition="staining", spoken_grade="unsafe")
    told = states(called_less, called_more)
    assert told["sill", "left"].grade is Grade.REPAIR
    assert told["sill", "right"].grade is Grade.UNSAFE


def test_a_place_that_could_not_be_looked_at(states: States, make: Any) -> None:
    """Refused until somebody looks all the same."""
    blocked = make(Kind.NOT_SEEN, zone="kick-up", side="left", reason="shield in the way")
    told = states(blocked)
    assert told["kick-up", "left"].refused
    assert not told["kick-up", "right"].refused
    later = states(blocked, make(Kind.CLEAR, zone="kick-up", side="left"))
    assert not later["kick-up", "left"].refused


def test_a_doubtful_clear_is_no_refusal(states: States, make: Any) -> None:
    """Nobody knows whether anybody looked; nobody said that they could not."""
    told = states(make(Kind.CLEAR, zone="kick-up", side="left", doubts=("unclear",)))
    assert not told["kick-up", "left"].refused
    assert not told["kick-up", "left"].seen.looked


def test_the_coating_stands_with_its_place(states: States, make: Any) -> None:
    """Where a rusted share was said."""
    rust = make(zone="sill", side="left", condition="surface-rust", area_percent=2.0)
    told = states(rust)
    assert told["sill", "left"].coating is not None
    assert told["sill", "right"].coating is None


def test_what_lies_nowhere_is_told_apart(
    inspect: Callable[..., Inspection], zone_map: ZoneMap, make: Any
) -> None:
    """A pair whose side was not said, and a fault without a place."""
    sideless = make(zone="mid-rail", condition="hole")
    lost = make(condition="hole")
    placed = make(zone="mid-rail", side="left", condition="hole")
    inspection = inspect(sideless, lost, placed, make(Kind.CLEAR, zone="sill"))
    assert [one.entry.id for one in nowhere(inspection, zone_map)] == [sideless.id, lost.id]
    assert place_states(inspection, zone_map)[0].entries == ()
