"""What is said of the vehicle: remarks, their corrections, the unit asked for; findings untouched."""

from __future__ import annotations

from typing import Any

import pytest

from voicelog.domain.entry import Kind


def _of_vehicle(played: Any) -> list[tuple[dict[str, Any], tuple[str, ...]]]:
    return [(dict(e.slots), e.tags[1:]) for e in played.entries if e.tags[:1] == ("vehicle",)]


def test_a_reading_is_a_remark_and_changes_no_finding(stage: Any) -> None:
    """It used to be taken for a late measure of the last fault."""
    played = stage.play(
        ["left rear rail, pitting", "odometer one three one four five two kilometres"]
    )
    finding, remark = played.entries
    assert finding.slots["condition"] == "pitting"
    assert not {name for name in finding.slots if name.endswith("_mm")}
    assert (remark.kind, remark.slots) == (Kind.REMARK, {"odometer": "131452 km"})
    assert not remark.doubtful


def test_without_its_unit_it_is_in_doubt_until_that_is_said(stage: Any) -> None:
    """Both are offered; the unit alone settles it."""
    (doubtful,) = stage.play(["the clock shows eighty two thousand four hundred"]).entries
    assert doubtful.doubts == ("miles or kilometres was not said",)
    assert doubtful.questions[0].options == ("82400 mi", "82400 km")
    (settled,) = stage.play(["the clock shows eighty two thousand four hundred", "miles"]).entries
    assert (settled.slots, settled.doubts, settled.questions) == ({"odometer": "82400 mi"}, (), ())


@pytest.mark.parametrize(
    ("correction", "reading"),
    [
        ("correction, odometer eighty three thousand", "83000 mi"),
        ("correction, odometer 131 thousand kilometres", "131000 km"),
        ("correction, kilometres", "82400 km"),
    ],
)
def test_a_correction_changes_the_reading(stage: Any, correction: str, reading: str) -> None:
    """The unit that was said before holds where none is said now."""
    played = stage.play(["odometer 82,400 miles", "left sill, hole", correction])
    assert _of_vehicle(played) == [({"odometer": reading}, ("odometer",))]
    assert played.entries[1].slots["condition"] == "hole"


def test_a_later_remark_is_one_of_its_own(stage: Any) -> None:
    """Which of them holds is for whoever folds the log; both stay."""
    played = stage.play(
        ["inspected by sam porter", "inspected by alex quill", "correction, inspector is jo"]
    )
    assert [slots for slots, _ in _of_vehicle(played)] == [
        {"inspector": "Sam Porter"}, {"inspector": "Jo"},
    ]  # fmt: skip


def test_a_unit_that_nobody_waits_for_is_only_words(stage: Any) -> None:
    """ "Miles", out of nothing."""
    (entry,) = stage.play(["miles"]).entries
    assert (entry.kind, entry.slots, entry.doubts) == (Kind.REMARK, {}, ())
    assert [e.slots for e in stage.play(["odometer 9000 km", "miles"]).entries] == [
        {"odometer": "9000 km"}, {},
    ]  # fmt: skip


def test_more_than_an_odometer_shows_is_in_doubt(stage: Any) -> None:
    """Kept as heard, with the reason."""
    (entry,) = stage.play(["odometer 9,000,000 miles"]).entries
    assert entry.slots == {"odometer": "9000000 mi"}
    assert "more than an odometer shows" in entry.doubts[0]


def test_before_the_first_place_a_surface_is_the_vehicles(stage: Any) -> None:
    """Afterwards the same words are that place's, as they always were."""
    (before,) = stage.play(["it's caked in mud"]).entries
    assert (before.kind, before.tags) == (Kind.REMARK, ("vehicle", "surface-dirty"))
    rail, mud = stage.play(["left front rail, surface rust", "it's caked in mud"]).entries
    assert (mud.kind, mud.slots["condition"], mud.slots["zone"]) == (
        Kind.FINDING, "debris", rail.slots["zone"],
    )  # fmt: skip
    whole = stage.play(
        ["left front rail, surface rust", "the whole truck is caked in mud"]
    ).entries[-1]
    assert whole.kind is Kind.REMARK


def test_the_floor_is_a_place_where_a_fault_waits_for_one(stage: Any) -> None:
    """ "There's a hole … it's on the floor" against "it's on the floor" at the start."""
    (stands,) = stage.play(["it's on the floor"]).entries
    assert stands.tags == ("vehicle", "stood-floor")
    (hole,) = stage.play(["there's a hole, ten millimetres", "it's on the floor"]).entries
    assert (hole.kind, hole.slots["zone"]) == (Kind.FINDING, "floor-pan")


def test_what_is_forbidden_probes_nothing(stage: Any) -> None:
    """ "Not allowed to probe" used to count as a probe of the last finding."""
    finding, refused = stage.play(["left rear rail, surface rust", "not allowed to probe"]).entries
    assert "method" not in finding.slots
    assert refused.tags == ("vehicle", "refused-probing")


def test_live_the_unit_is_asked_and_answered(live: Any) -> None:
    """The open question is closed by the unit alone; talk in between does not close it."""
    turn = live.say("odometer eighty two thousand four hundred")
    assert (turn.asked.slot, turn.asked.options) == ("odometer", ("82400 mi", "82400 km"))
    live.say("kettle is on", after_s=1.0)
    answered = live.say("miles", after_s=1.0)
    assert (answered.answered, answered.closed) == ("answered", turn.asked)
    assert [e.slots for e in live.entries.values() if e.slots] == [{"odometer": "82400 mi"}]
    assert not any(entry.doubtful for entry in live.entries.values())


def test_live_affirm_alone_tells_no_unit(live: Any) -> None:
    """The question stays open, and says why."""
    live.say("odometer eighty two thousand four hundred")
    assert live.say("affirm").refused == "that does not tell which one"
    assert live.say("negative").answered == "negative"
