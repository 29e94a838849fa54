"""A number put right in the same breath, or as "eighty, not a hundred" a little later."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Protocol

import pytest

from voicelog.domain.entry import Entry
from voicelog.domain.slot import Slots


class _Played(Protocol):
    entries: tuple[Entry, ...]


class _Stage(Protocol):
    def play(self, said: Sequence[str]) -> _Played: ...


@pytest.mark.parametrize(
    ("text", "measures"),
    [
        ("hole two inches, no, three", {"size_mm": 76.2}),
        ("scale, twenty percent, no, forty", {"area_percent": 40.0}),
        ("scale, twenty percent, make that forty", {"area_percent": 40.0}),
        ("hole, an inch and a half, sorry, two", {"size_mm": 50.8}),
        ("hole, two by one inches, no, three by two", {"size_mm": 76.2, "width_mm": 50.8}),
        ("two holes, no, three", {"count": 3}),
        ("hole two inches, no, three holes", {"count": 3}),
        ("crack fifteen mil, no, twenty long", {"size_mm": 20.0}),
        ("hole, five inches from the spring hanger, no, seven", {"mount_distance_mm": 177.8}),
        ("reads two point four, no, two point one, should be three",
         {"thickness_mm": 2.1, "nominal_mm": 3.0}),
        ("reads two point four, no, two point one, three when new",
         {"thickness_mm": 2.1, "nominal_mm": 3.0}),
        ("two point four mil no two point one left", {"thickness_mm": 2.1}),
    ],
)  # fmt: skip
def test_it_stands_where_the_wrong_one_stood(stage: _Stage, text: str, measures: Slots) -> None:
    """In its unit, and as the same measure; three inches are no three millimetres."""
    (entry,) = stage.play([f"right mid rail {text}"]).entries
    assert _measures(entry) == {name: pytest.approx(mm) for name, mm in measures.items()}


@pytest.mark.parametrize(
    ("first", "then", "measures"),
    [
        ("soft spot, ninety mil from the spring hanger", "seventy, not ninety",
         {"mount_distance_mm": 70.0}),
        ("hole, three inches", "four, not three", {"size_mm": 101.6}),
        ("scale over forty percent", "nearer twenty percent, make it twenty",
         {"area_percent": 20.0}),
    ],
)  # fmt: skip
def test_a_number_instead_of_the_one_denied(
    stage: _Stage, first: str, then: str, measures: Slots
) -> None:
    """The measure that was nearest is meant, as with "correction"."""
    (entry,) = stage.play([f"left rear rail, {first}", then]).entries
    assert _measures(entry) == {name: pytest.approx(mm) for name, mm in measures.items()}


def test_what_is_binned_is_put_right(stage: _Stage) -> None:
    """As "scrap that" does."""
    (entry,) = stage.play(["left outrigger, undersealed", "bin that, it's pitting"]).entries
    assert entry.slots["condition"] == "pitting"


def _measures(entry: Entry) -> Slots:
    ends = ("_mm", "_percent", "count")
    return {name: value for name, value in entry.slots.items() if name.endswith(ends)}
