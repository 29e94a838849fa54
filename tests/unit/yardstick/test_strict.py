"""The strict scorer: one fault at a time, each counted as what it is."""

from __future__ import annotations

from typing import Any

import pytest

from voicelog.yardstick.strict import Answer, Got, Tally, aligned, judge, tally

RUST = {"kind": "finding", "zone": "front-rail", "side": "left", "condition": "surface-rust"}
HOLE = {"kind": "finding", "zone": "sill", "condition": "hole", "size_mm": 15}


def scored(want: list[dict[str, Any]], *made: Got, tags: tuple[str, ...] = ()) -> Tally:
    """The counts of one case."""
    return tally(judge(want, Answer(made), tags))


def test_a_perfect_run_is_exact() -> None:
    """Same entries, same order, same slots."""
    found = scored([RUST, HOLE], Got(RUST), Got(HOLE))
    assert found == Tally(1, 1, 8, 8, 8, right=2)


def test_nothing_wanted_and_nothing_made_is_exact() -> None:
    """Chatter, questions and remarks want no entry."""
    assert scored([]) == Tally(cases=1, exact=1)


def test_one_wrong_slot_costs_the_case_and_that_slot() -> None:
    """The other slots of the entry stay right."""
    found = scored([RUST], Got({**RUST, "side": "right"}))
    assert found == Tally(1, 0, 3, 4, 4, wrong=1)


def test_an_extra_entry_costs_precision() -> None:
    """Whatever is made beyond what is wanted is wrong."""
    found = scored([RUST], Got(RUST), Got(HOLE))
    assert found == Tally(1, 0, 4, 8, 4, right=1, wrong=1)


def test_a_missing_entry_costs_recall() -> None:
    """Nothing was made of it, so nothing can be doubtful."""
    found = scored([RUST, HOLE], Got(HOLE))
    assert found == Tally(1, 0, 4, 4, 8, right=1, missing=1)


def test_an_extra_slot_costs_the_case() -> None:
    """Every scored slot that nobody said is a fault."""
    found = scored([RUST], Got({**RUST, "size_mm": 20.0}))
    assert found == Tally(1, 0, 4, 5, 4, wrong=1)


def test_a_missing_slot_costs_the_case() -> None:
    """An entry that leaves something out is wrong."""
    found = scored([HOLE], Got({k: v for k, v in HOLE.items() if k != "size_mm"}))
    assert found == Tally(1, 0, 3, 3, 4, wrong=1)


@pytest.mark.parametrize(
    "slots",
    [
        {"method": "seen"}, {"part": "web"}, {"layer": "metal"}, {"landmark": "the bush"},
        {"reason": "mud"}, {"grade": "repair"}, {"certainty": "stated"},
    ],
    ids=str,
)  # fmt: skip
def test_slots_that_are_never_scored_change_nothing(slots: dict[str, Any]) -> None:
    """Neither in what was made nor in what was wanted."""
    assert scored([RUST], Got({**RUST, **slots})).exact == 1
    assert scored([{**RUST, **slots}], Got(RUST)).exact == 1


def test_a_hedge_is_scored() -> None:
    """Only ``stated`` goes without saying."""
    assert scored([RUST], Got({**RUST, "certainty": "tentative"})).exact == 0
    assert scored([{**RUST, "certainty": "tentative"}], Got(RUST)).exact == 0


@pytest.mark.parametrize(("got", "exact"), [(15.15, 1), (14.85, 1), (15.2, 0), (14.8, 0)])
def test_numbers_agree_within_one_percent(got: float, exact: int) -> None:
    """Of the number wanted."""
    assert scored([HOLE], Got({**HOLE, "size_mm": got})).exact == exact


WORN = {"kind": "finding", "zone": "sill", "condition": "thinning", "thickness_mm": 2.2}


def test_a_loss_that_follows_from_thickness_and_nominal_is_no_extra() -> None:
    """Unless it was wanted otherwise, or does not follow from them."""
    worn = {**WORN, "nominal_mm": 3.0}
    assert scored([worn], Got({**worn, "loss_percent": 26.7})).exact == 1
    assert scored([worn], Got({**worn, "loss_percent": 60.0})).exact == 0
    assert scored([{**worn, "loss_percent": 30}], Got({**worn, "loss_percent": 26.7})).exact == 0


def test_a_loss_without_a_thickness_is_scored() -> None:
    """It follows from nothing."""
    assert scored([RUST], Got({**RUST, "loss_percent": 30.0})).exact == 0


def test_a_small_loss_may_be_rounded() -> None:
    """It is kept to one decimal, which can be more than one percent of it."""
    worn = {**WORN, "nominal_mm": 2.27, "loss_percent": 3.08}
    assert scored([worn], Got({**worn, "loss_percent": 3.1})).exact == 1


def test_order_counts() -> None:
    """The same entries the wrong way round are not exact."""
    found = scored([RUST, HOLE], Got(HOLE), Got(RUST))
    assert (found.exact, found.right, found.wrong, found.missing) == (0, 1, 1, 1)


def test_alignment_keeps_most_slots() -> None:
    """An entry left out in the middle does not shift the rest onto their neighbours."""
    other = {**RUST, "side": "right"}
    pairs = aligned([RUST, HOLE, other], [Got(RUST), Got(other)])
    assert [(want, got and got.slots) for want, got in pairs] == [
        (RUST, RUST), (HOLE, None), (other, other),
    ]  # fmt: skip


def test_entries_with_nothing_in_common_are_not_paired() -> None:
    """One is missing and the other is extra."""
    found = scored([RUST], Got({"kind": "photo", "zone": "sill"}))
    assert (found.missing, found.wrong, found.slots_right) == (1, 1, 0)


def test_doubts_are_counted_by_right_and_wrong() -> None:
    """Marked and unmarked, right and wrong, each where it belongs."""
    doubt = ("was heard faintly",)
    wrong = {**HOLE, "zone": "kick-up"}
    found = scored([RUST, HOLE], Got(RUST, doubt), Got(wrong, doubt), Got(wrong))
    assert (found.right, found.right_marked) == (1, 1)
    assert (found.wrong, found.wrong_marked) == (2, 1)
    assert scored([RUST], Got(RUST)).right_marked == 0


def test_wanted_tags_must_be_there() -> None:
    """Others beside them do no harm."""
    damp = Answer(tags=frozenset(("stored-damp", "spelt")))
    assert judge([], damp, ["stored-damp"]).exact
    assert not judge([], damp, ["winter-salt"]).exact


def test_counts_add_up() -> None:
    """Field by field."""
    assert Tally(1, 1, 4, 4, 4, right=1) + Tally(1, 0, 3, 4, 4, wrong=1) == Tally(
        2, 1, 7, 8, 8, right=1, wrong=1
    )
