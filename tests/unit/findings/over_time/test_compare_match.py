"""Which finding is which: several at one place, both sides, numbers, landmarks."""

from __future__ import annotations

from collections.abc import Callable
from itertools import permutations
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from voicelog.domain.comparison import Comparison
from voicelog.domain.slot import CONDITIONS
from voicelog.findings.over_time.assign import assign
from voicelog.findings.over_time.match import COURSES

Became = Callable[..., Comparison]
COST = st.one_of(st.none(), st.integers(0, 50))


def hole(**more: Any) -> dict[str, Any]:
    """A hole in the left front rail."""
    return {"zone": "front-rail", "side": "left", "condition": "hole", **more}


def pairs(comparison: Comparison) -> set[tuple[tuple[str, ...], tuple[str, ...]]]:
    """Ids then and ids now of each difference."""
    return {(d.older, d.newer) for d in comparison.differences}


def test_every_condition_is_on_just_one_course() -> None:
    """One that stood in two could be paired with anything."""
    named = [name for course in COURSES for stage in course for name in stage]
    assert sorted(named) == sorted(CONDITIONS)


def test_several_holes_pair_by_size_whatever_their_order(became: Became) -> None:
    """The big one is still the big one."""
    older = [hole(size_mm=10.0), hole(size_mm=50.0)]
    newer = [hole(size_mm=52.0), hole(size_mm=11.0)]
    assert pairs(became(older, newer)) == {(("e1.1",), ("e2.1",)), (("e2.1",), ("e1.1",))}


def test_a_third_hole_is_the_one_that_appeared(became: Became) -> None:
    """Not the first that was said."""
    older = [hole(size_mm=50.0), hole(size_mm=20.0)]
    newer = [hole(size_mm=5.0), hole(size_mm=21.0), hole(size_mm=52.0)]
    appeared = [d for d in became(older, newer).differences if d.change == "appeared"]
    assert [d.newer for d in appeared] == [("e1.1",)]


def test_the_whole_counts_and_not_the_nearest_pair(became: Became) -> None:
    """Greedy would take 20 with 22 and leave 60 with 10; together 10–20 and 22–60 are nearer."""
    older = [hole(size_mm=20.0), hole(size_mm=60.0)]
    newer = [hole(size_mm=22.0), hole(size_mm=10.0)]
    assert (("e2.1",), ("e1.1",)) in pairs(became(older, newer))


def test_a_landmark_tells_two_holes_apart(became: Became) -> None:
    """Their sizes would pair them the other way."""
    older = [
        hole(landmark="by the hanger", size_mm=20.0),
        hole(landmark="by the mount", size_mm=25.0),
    ]
    newer = [
        hole(landmark="By the mount", size_mm=21.0),
        hole(landmark="by the hanger", size_mm=24.0),
    ]
    assert pairs(became(older, newer)) == {(("e1.1",), ("e2.1",)), (("e2.1",), ("e1.1",))}


def test_the_same_condition_pairs_before_another_stage(became: Became) -> None:
    """Rust stays rust and the hole stays the hole."""
    older = [hole(condition="surface-rust"), hole()]
    newer = [hole(), hole(condition="surface-rust")]
    assert {d.change for d in became(older, newer).differences} == {"same"}


def test_courses_do_not_mix(became: Became) -> None:
    """A crack is not what became of a leak."""
    older, newer = [hole(condition="leak")], [hole(condition="crack")]
    changes = sorted(d.change for d in became(older, newer).differences)
    assert changes == ["appeared", "gone"]


def test_numbers_and_sides_keep_places_apart(became: Became) -> None:
    """Body mount number two is not number three, nor the left the right."""
    older = [{"zone": "cab-mount", "side": "left", "ordinal": 2, "condition": "scale"}]
    third = [{"zone": "cab-mount", "side": "left", "ordinal": 3, "condition": "scale"}]
    right = [{"zone": "cab-mount", "side": "right", "ordinal": 2, "condition": "scale"}]
    for newer in (third, right):
        changes = sorted(d.change for d in became(older, newer).differences)
        assert changes == ["appeared", "not-looked-at-again"]


def test_both_sides_are_two_places_and_told_together_where_they_agree(became: Became) -> None:
    """The left got worse, the right did not; without that, one line."""
    both = hole(side="both", condition="scale")
    together = became([both], [both]).differences
    assert [(d.change, d.side) for d in together] == [("same", "both")]
    apart = became([both], [hole(condition="scale", side="right"), hole()]).differences
    assert [(d.change, d.side, d.older) for d in apart] == [
        ("worse", "left", ("e1.1",)),
        ("same", "right", ("e1.1",)),
    ]


def test_a_side_nobody_said_may_be_either_and_says_so(became: Became) -> None:
    """Paired, because a hole is not lost for want of a word; told, because it may be another."""
    sideless = {"zone": "front-rail", "condition": "hole"}
    place, difference = became([hole()], [sideless]).differences
    assert (difference.change, difference.newer) == ("same", ("e1.1",))
    assert "The side was not said now, so it may be another spot" in difference.text
    assert (place.change, place.side) == ("not-looked-at-again", "left")


def test_places_nobody_named_pair_with_each_other_only(became: Became) -> None:
    """They are no place of the map."""
    lost = {"condition": "hole", "size_mm": 20.0}
    (same,) = became([lost], [lost]).differences
    assert (same.change, same.zone) == ("same", "unplaced")
    assert same.text.startswith("A place nobody named: hole")
    assert len(became([lost], [hole()]).differences) == 2


@given(
    table=st.integers(1, 4).flatmap(
        lambda n: st.lists(st.lists(COST, min_size=n, max_size=n), max_size=4)
    )
)
def test_assignment_is_the_best_of_all(table: list[list[int | None]]) -> None:
    """As many pairs as can be, then the cheapest: compared with trying everything."""
    found = assign(table)
    taken = [column for column in found if column is not None]
    assert len(set(taken)) == len(taken)
    cost = sum(table[row][c] or 0 for row, c in enumerate(found) if c is not None)
    assert (-len(taken), cost) == _best(table)


def _best(table: list[list[int | None]]) -> tuple[int, int]:
    wide = len(table[0]) if table else 0
    seats = [*range(wide), *[None] * len(table)]
    return min(
        (_worth(table, order) for order in set(permutations(seats, len(table)))), default=(0, 0)
    )


def _worth(table: list[list[int | None]], order: tuple[int | None, ...]) -> tuple[int, int]:
    costs = [table[row][c] for row, c in enumerate(order) if c is not None]
    known = [cost for cost in costs if cost is not None]
    return (-len(known), sum(known))


@pytest.mark.parametrize("table", [[], [[]], [[], []]])
def test_nothing_to_assign(table: list[list[int | None]]) -> None:
    """Every row is left alone."""
    assert assign(table) == (None,) * len(table)
