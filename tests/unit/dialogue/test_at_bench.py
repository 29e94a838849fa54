"""Entries put right by somebody who types: what follows from a slot, and what is refused."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from voicelog.config.grammar import Grammar
from voicelog.dialogue.at_bench import change_to, confirmed, merged, put_right
from voicelog.dialogue.place import NO_SIDE
from voicelog.domain.entry import Amend, Entry, Kind, Question, Replace, amended
from voicelog.errors import UsageFault

AT = "2026-03-14T08:05:30.000Z"
WHICH_RAIL = Question("zone", ("front-rail", "mid-rail", "rear-rail"))


def entry(name: str = "e2.1", kind: Kind = Kind.FINDING, /, **given: Any) -> Entry:
    """An entry with these slots; what is no slot is told by its own name."""
    own = {n: given.pop(n) for n in OWN & given.keys()}
    known = {"certainty": "stated"} if kind is Kind.FINDING else {}
    return Entry(name, "u2", AT, kind, {**known, **given}, **own)


OWN = {"text", "doubts", "questions", "absent", "reason", "ranges", "unplaced", "runner_up"}
RUST = entry(zone="sill", side="left", condition="surface-rust")
HOLE = entry(
    zone="sill", side="left", condition="hole", size_mm=12.5, probe="through",
    ranges={"size_mm": (10.0, 15.0)},
)  # fmt: skip


@pytest.fixture
def right(grammar: Grammar) -> Any:
    """Puts an entry right over the shipped map."""

    def put(before: Entry, slots: dict[str, Any] | None = None, **more: Any) -> Entry:
        after = put_right(before, slots or {}, grammar.zone_map, **more)
        change = change_to(before, after)
        made = change.entry if isinstance(change, Replace) else amended(before, change)  # type: ignore[arg-type]
        assert made == after, "the change does not make the entry that was asked for"
        return after

    return put


def test_a_slot_said_anew(right: Any) -> None:
    """Only that slot changes."""
    assert right(RUST, {"side": "right"}) == replace(RUST, slots={**RUST.slots, "side": "right"})


def test_a_probe_gone_through_makes_rust_a_hole(right: Any) -> None:
    """As when it is said; a probe that only dents leaves the condition."""
    assert right(RUST, {"probe": "through"}).slots["condition"] == "hole"
    assert right(RUST, {"probe": "dents"}).slots["condition"] == "surface-rust"


def test_what_was_spelled_belongs_to_a_remark(right: Any) -> None:
    """An entry that says something of metal has no identification number."""
    spelt = entry("e2.1", Kind.REMARK, zone="sill", vin="1M8GDM9AXKP042788")
    assert "vin" not in right(spelt, {"condition": "hole", "side": "left"}).slots
    assert right(spelt, {"vin": "X"}).slots["vin"] == "X"


def test_a_clear_place_has_no_condition(right: Any) -> None:
    """Or a hole would stand there that nobody grades."""
    after = right(RUST, {"condition": "hole"}, kind=Kind.CLEAR)
    assert (after.kind, "condition" in after.slots) == (Kind.CLEAR, False)


def test_another_condition_lets_a_probe_gone_through_go(right: Any) -> None:
    """What is rust after all was not gone through."""
    assert "probe" not in right(HOLE, {"condition": "surface-rust"}).slots


def test_a_measure_stays_the_one_that_was_named(right: Any) -> None:
    """Spoken numbers look for the measure they may mean; typed ones have theirs."""
    after = right(HOLE, {"width_mm": 4.0})
    assert (after.slots["size_mm"], after.slots["width_mm"]) == (12.5, 4.0)
    assert after.ranges == {"size_mm": (10.0, 15.0)}


def test_a_number_said_anew_is_a_range_no_longer(right: Any) -> None:
    """10 to 15 was the range of another number."""
    assert right(HOLE, {"size_mm": 20.0}).ranges == {}


def test_a_dropped_number_takes_its_range_along(right: Any) -> None:
    """No range without its slot."""
    after = right(HOLE, drop=("size_mm",))
    assert ("size_mm" in after.slots, after.ranges) == (False, {})


def test_a_clear_place_keeps_no_measures(right: Any) -> None:
    """No size, no bad probe, no certainty; that somebody looked there stays."""
    after = right(HOLE, kind=Kind.CLEAR)
    assert dict(after.slots) == {"zone": "sill", "side": "left", "method": "seen"}
    assert (after.kind, after.ranges) == (Kind.CLEAR, {})


def test_what_was_not_seen_has_a_place_and_a_reason_only(right: Any) -> None:
    """Neither a condition nor a range nor a question about one."""
    asked = replace(HOLE, doubts=("unclear",), questions=(Question("size_mm", ("10", "50")),))
    after = right(asked, kind=Kind.NOT_SEEN, reason="shield in the way")
    assert dict(after.slots) == {"zone": "sill", "side": "left"}
    assert (after.reason, after.ranges, after.questions) == ("shield in the way", {}, ())
    assert after.doubts == ()


def test_a_reason_can_be_put_right_alone(right: Any) -> None:
    """The kind stays."""
    unseen = entry("e2.1", Kind.NOT_SEEN, zone="sill", side="left", reason="mud")
    assert right(unseen, reason="shield").reason == "shield"


def test_a_condition_makes_a_clear_place_a_finding(right: Any) -> None:
    """It has conditions, and none that are said not to be there."""
    clear = entry("e2.1", Kind.CLEAR, zone="sill", side="left", method="seen", absent=("hole",))
    after = right(clear, {"condition": "hole"})
    assert (after.kind, after.absent) == (Kind.FINDING, ())
    assert after.slots["certainty"] == "stated"


def test_a_condition_without_a_place_becomes_a_finding_with_one(right: Any) -> None:
    """It was kept as a remark because nobody knew where it was."""
    lost = entry(
        "e2.1", Kind.REMARK, condition="scale", unplaced=True, doubts=("no place was said",)
    )
    after = right(lost, {"zone": "rear-cross-member"})
    assert (after.kind, after.unplaced, after.doubts) == (Kind.FINDING, False, ())


def test_a_zone_without_sides_takes_no_side_along(right: Any) -> None:
    """A cross member has neither left nor right of its own; a rail has."""
    assert "side" not in right(RUST, {"zone": "front-cross-member"}).slots
    assert right(RUST, {"zone": "front-rail"}).slots["side"] == "left"


def test_one_of_a_pair_needs_its_side(right: Any) -> None:
    """A side dropped, or a zone that has two: in doubt, and asked, until it is told."""
    middle = entry(zone="front-cross-member", condition="scale")
    for after in (right(RUST, drop=("side",)), right(middle, {"zone": "sill"})):
        assert after.doubts == (NO_SIDE,)
        assert after.questions == (Question("side", ("left", "right")),)
        assert right(after, {"side": "right"}).doubts == ()


def test_who_looks_into_it_resolves_the_doubt(right: Any) -> None:
    """Unless something that was asked has no answer yet."""
    faint = replace(RUST, doubts=("heard faintly",))
    assert right(faint, {"layer": "metal"}).doubts == ()
    asked = entry(condition="scale", side="both", doubts=("which rails",), questions=(WHICH_RAIL,))
    assert right(asked, {"layer": "metal"}).doubts == ("which rails",)
    assert right(asked, {"zone": "mid-rail"}).questions == ()


@pytest.mark.parametrize(
    ("wanted", "match"),
    [({"drop": ("condition",)}, "without a condition"), ({"drop": ("zone",)}, "lie nowhere")],
)
def test_what_its_kind_needs_cannot_be_dropped(
    right: Any, wanted: dict[str, Any], match: str
) -> None:
    """A finding has a condition and a place."""
    with pytest.raises(UsageFault, match=match) as caught:
        right(RUST, **wanted)
    assert caught.value.hint


def test_confirming_takes_the_doubt_away_and_nothing_else() -> None:
    """It stands as it is."""
    faint = replace(RUST, doubts=("heard faintly",), place_assumed=True)
    assert confirmed(faint) == RUST


def test_what_is_asked_has_to_be_answered_first() -> None:
    """The options are named."""
    asked = entry(condition="scale", doubts=("which rails",), questions=(WHICH_RAIL,))
    with pytest.raises(UsageFault, match="place is not known") as caught:
        confirmed(asked)
    assert "mid-rail" in caught.value.hint


def test_merging_keeps_the_worse_probe_and_the_stronger_method() -> None:
    """Whichever entry had them; the words of both are kept."""
    one = entry(zone="sill", condition="scale", probe="firm", method="gauged", text="scale")
    two = entry(
        "e3.1", zone="sill", condition="scale", probe="soft", method="seen", text="it gives"
    )
    for pair in ((one, two), (two, one)):
        after = merged(*pair)
        assert (after.slots["probe"], after.slots["method"]) == ("soft", "gauged")
        assert after.id == pair[0].id
    assert merged(one, two).text == "scale; it gives"


def test_merging_rust_with_a_probe_gone_through_is_a_hole() -> None:
    """As when the probe is said of the rust."""
    through = entry("e3.1", zone="sill", side="left", condition="pitting", probe="through")
    assert merged(RUST, through).slots["condition"] == "hole"


def test_merging_left_and_right_is_both() -> None:
    """One entry for both sides."""
    other = entry("e3.1", zone="sill", side="right", condition="surface-rust")
    assert merged(RUST, other).slots["side"] == "both"
    both = replace(other, slots={**other.slots, "side": "both"})
    assert merged(RUST, both).slots["side"] == "both"


def test_merging_a_clear_place_with_a_finding_is_a_finding() -> None:
    """In either order; it says no longer that something is not there."""
    clear = entry("e3.1", Kind.CLEAR, zone="sill", side="left", absent=("hole",), method="probed")
    for after in (merged(clear, HOLE), merged(HOLE, clear)):
        assert (after.kind, after.slots["condition"], after.absent) == (Kind.FINDING, "hole", ())
        assert after.slots["method"] == "probed"


def test_merging_mixes_no_numbers_with_ranges_of_others() -> None:
    """12 mm is not *10 to 15*; a number taken over brings its range."""
    exact = entry("e3.1", zone="sill", side="left", condition="hole", size_mm=12.0)
    assert merged(exact, HOLE).ranges == {}
    bare = entry("e3.1", zone="sill", side="left", condition="hole")
    assert merged(bare, HOLE).ranges == {"size_mm": (10.0, 15.0)}


@pytest.mark.parametrize(
    ("other", "match"),
    [(entry("e3.1", zone="kick-up", side="left", condition="hole"), "different places"),
     (entry("e3.1", Kind.PHOTO, zone="sill", side="left"), "e3.1 is photo")],
    ids=["elsewhere", "a photo"],
)  # fmt: skip
def test_what_does_not_go_together_is_not_merged(other: Entry, match: str) -> None:
    """Two places, or a finding and a picture."""
    with pytest.raises(UsageFault, match=match) as caught:
        merged(RUST, other)
    assert caught.value.hint


def test_a_change_tells_slot_by_slot_where_that_tells_all() -> None:
    """A line that people can read; the whole entry only where it has to be."""
    after = replace(RUST, slots={**RUST.slots, "side": "right"})
    assert isinstance(change_to(RUST, after), Amend)
    assert change_to(RUST, replace(after, text="said anew")) == Replace(
        replace(after, text="said anew")
    )


def test_in_another_zone_the_old_number_means_nothing(grammar: Grammar) -> None:
    """Number two of the cab mounts is not number two of the outriggers, unless somebody says so."""
    zones = grammar.zone_map
    second = replace(RUST, slots={**RUST.slots, "zone": "cab-mount", "ordinal": 2})
    assert "ordinal" not in put_right(second, {"zone": "outrigger"}, zones).slots
    assert put_right(second, {"zone": "outrigger", "ordinal": 3}, zones).slots["ordinal"] == 3
    assert put_right(second, {"side": "right"}, zones).slots["ordinal"] == 2
