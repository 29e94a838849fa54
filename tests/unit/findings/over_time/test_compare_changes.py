"""What becomes of one finding from one inspection to the next."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest

from voicelog.domain.comparison import Comparison, Difference
from voicelog.domain.entry import Kind
from voicelog.domain.grade import Grade

Became = Callable[..., Comparison]
RAIL: dict[str, Any] = {"zone": "front-rail", "side": "left"}
CLEAR: dict[str, Any] = {"kind": Kind.CLEAR}
NOT_SEEN: dict[str, Any] = {"kind": Kind.NOT_SEEN}


def only(comparison: Comparison) -> Difference:
    """The one difference there is."""
    (difference,) = comparison.differences
    return difference


def found(condition: str, **more: Any) -> dict[str, Any]:
    """A finding on the left front rail."""
    return {**RAIL, "condition": condition, **more}


def test_the_same_said_twice_is_the_same(became: Became) -> None:
    """Ids of both logs stand beside it."""
    difference = only(became([found("scale")], [found("scale")]))
    assert difference.change == "same"
    assert (difference.older, difference.newer) == (("e1.1",), ("e1.1",))
    assert difference.text == "Left front rail: scale (repair, metal not reached), as then."
    nearly = only(became([found("scale", size_mm=25.0)], [found("scale", size_mm=26.0)]))
    assert "scale, 26 mm (repair, metal not reached); then scale, 25 mm" in nearly.text
    assert nearly.text.endswith("the same as far as can be told.")


def test_surface_rust_that_became_a_hole_is_worse(became: Became) -> None:
    """One course of corrosion, so one finding, and both grades."""
    difference = only(became([found("surface-rust")], [found("hole", size_mm=25.0)]))
    assert difference.change == "worse"
    assert (difference.then, difference.now) == (Grade.COSMETIC, Grade.REPAIR)
    assert "hole, 25 mm (repair); then surface rust (cosmetic" in difference.text
    assert "Further along the same course" in difference.text


def test_a_hole_is_further_along_than_a_soft_spot_of_the_same_grade(became: Became) -> None:
    """The grade alone would call it the same."""
    difference = only(became([found("soft-spot")], [found("hole")]))
    assert difference.then is difference.now
    assert difference.change == "worse"


def test_a_probe_that_gives_way_now_is_worse(became: Became) -> None:
    """Dents where it was firm: the metal is another."""
    older, newer = found("crack", probe="firm"), found("crack", probe="dents")
    assert only(became([older], [newer])).change == "worse"


@pytest.mark.parametrize(
    ("then", "now", "change"),
    [
        ({"size_mm": 25.0}, {"size_mm": 40.0}, "grew"),
        ({"size_mm": 25.0}, {"size_mm": 27.0}, "same"),
        ({"size_mm": 300.0}, {"size_mm": 320.0}, "same"),
        ({"size_mm": 40.0}, {"size_mm": 25.0}, "better"),
        ({"depth_mm": 1.0}, {"depth_mm": 1.6}, "grew"),
        ({"area_percent": 10.0}, {"area_percent": 15.0}, "same"),
        ({"area_percent": 10.0}, {"area_percent": 15.1}, "grew"),
        ({"count": 2}, {"count": 3}, "grew"),
        ({"count": 3}, {"count": 2}, "better"),
        ({"size_mm": 25.0}, {}, "same"),
        ({"size_mm": 40.0, "count": 1}, {"size_mm": 25.0, "count": 3}, "grew"),
    ],
)
def test_a_measure_grows_beyond_measuring(
    became: Became, then: dict[str, Any], now: dict[str, Any], change: str
) -> None:
    """What a tape or an eye explains is no growth, and growth in one measure is growth."""
    assert only(became([found("scale", **then)], [found("scale", **now)])).change == change


def test_a_range_counts_by_its_nearer_end(became: Became) -> None:
    """ "Thirty to fifty" after forty-five is no growth."""
    older = found("hole", size_mm=45.0)
    wide = found("hole", size_mm=50.0, ranges={"size_mm": (30.0, 50.0)})
    beyond = found("hole", size_mm=70.0, ranges={"size_mm": (60.0, 70.0)})
    assert only(became([older], [wide])).change == "same"
    grown = only(became([older], [beyond]))
    assert grown.change == "grew"
    assert "Size from 45 to 60-70 mm" in grown.text


def test_less_said_is_never_told_as_healing(became: Became) -> None:
    """A hole does not turn back into rust."""
    difference = only(became([found("hole")], [found("surface-rust")]))
    assert difference.change == "better"
    assert "less was said this time" in difference.text
    assert "Metal does not heal" in difference.text


def test_looked_at_again_and_nothing_said_is_gone_and_no_more(became: Became) -> None:
    """Weaker than repaired, and says so."""
    difference = only(became([found("crack")], [{**RAIL, **CLEAR}]))
    assert (difference.change, difference.now) == ("gone", None)
    assert "does not prove that it is gone" in difference.text


def test_a_clear_look_that_touched_the_metal_is_repaired(became: Became) -> None:
    """With the clear's id, and what else it may mean."""
    clear = {**RAIL, **CLEAR, "probe": "firm", "method": "probed"}
    difference = only(became([found("hole")], [clear]))
    assert (difference.change, difference.newer) == ("repaired", ("e1.1",))
    assert "mended or replaced, is hidden, or one of the two looks was mistaken" in difference.text


@pytest.mark.parametrize("more", [{"certainty": "tentative"}, {"doubts": ("misheard",)}])
def test_a_clear_in_doubt_repairs_nothing(became: Became, more: dict[str, Any]) -> None:
    """Tentative: looked at and no more. Maybe misheard: no look at all."""
    clear = {**RAIL, **CLEAR, "probe": "firm", **more}
    assert became([found("hole")], [clear]).differences[0].change in ("gone", "not-looked-at-again")


@pytest.mark.parametrize("condition", ["blocked-drain", "leak", "missing-part", "oil-film"])
def test_firm_metal_says_nothing_of_drains_leaks_and_missing_parts(
    became: Became, condition: str
) -> None:
    """A scraper does not open a drain, nor put a bolt in."""
    place = {"zone": "cab-mount", "side": "left"}
    clear = {**place, "kind": Kind.CLEAR, "probe": "firm", "method": "scraped"}
    [difference] = became([{**place, "condition": condition}], [clear]).differences
    assert difference.change == "gone"
    assert "does not prove that it is gone" in difference.text


def test_a_repair_told_of_later_explains_every_hole_at_its_place(became: Became) -> None:
    """One line with all of them; the repair itself is no second line."""
    older = [found("hole", size_mm=10.0), found("hole", size_mm=50.0)]
    difference = only(became(older, [found("old-repair")]))
    assert difference.change == "repaired"
    assert (difference.older, difference.newer) == (("e1.1", "e2.1"), ("e1.1",))
    assert "now a repair is told of there: old repair (treat, metal not reached)" in difference.text


def test_a_repair_that_was_there_then_repairs_nothing_new(became: Became) -> None:
    """It is the same patch; the hole beside it was not spoken of again."""
    older = [found("old-repair"), found("hole")]
    changes = {d.change for d in became(older, [found("old-repair")]).differences}
    assert changes == {"same", "gone"}


@pytest.mark.parametrize(
    "more", [{"certainty": "tentative"}, {"doubts": ("misheard",)}, {"side": "right"}]
)
def test_a_repair_in_doubt_or_elsewhere_makes_up_for_nothing(
    became: Became, more: dict[str, Any]
) -> None:
    """The hole stays a hole that nobody spoke of again."""
    differences = became([found("hole")], [found("old-repair", **more)]).differences
    assert "repaired" not in {d.change for d in differences}


@pytest.mark.parametrize("over", ["recoated", "filler", "oil-film"])
def test_what_can_hide_a_hole_is_told_with_it(became: Became, over: str) -> None:
    """Fresh coating over a hole is the oldest trick."""
    differences = became([found("hole")], [found(over)]).differences
    gone = next(d for d in differences if d.change == "gone")
    assert "can hide it" in gone.text


def test_what_else_is_told_of_there_now_stands_with_it(became: Became) -> None:
    """Blistered paint that is a hole by now: nothing was said of paint, and it is not gone."""
    place = {"zone": "kick-up", "side": "left"}
    comparison = became([{**place, "condition": "blistering"}], [{**place, "condition": "hole"}])
    gone = next(d for d in comparison.differences if d.change == "gone")
    assert gone.text.endswith("does not prove that it is gone. Told of there now: hole.")


def test_nobody_looked_again_stays_open(became: Became) -> None:
    """It is told with its grade, and that it may be worse by now."""
    difference = only(became([found("hole")], []))
    assert difference.change == "not-looked-at-again"
    assert (difference.then, difference.now) == (Grade.REPAIR, None)
    assert "it can be as bad as then, or worse" in difference.text


def test_mud_is_no_second_look(became: Became) -> None:
    """Dirt on the metal clears nothing that was found there."""
    differences = became([found("hole")], [found("debris")]).differences
    assert {d.change for d in differences} == {"appeared", "not-looked-at-again"}


def test_a_cavity_not_looked_into_again_stays_open(became: Became) -> None:
    """The outside was looked at; the inside is a place of its own."""
    difference = only(became([found("scale", face="interior")], [{**RAIL, **CLEAR}]))
    assert difference.change == "not-looked-at-again"
    assert difference.text.startswith("Left front rail, inside: then scale")
    assert "the place was looked at now, but not inside" in difference.text.lower()


def test_another_face_is_not_the_same_look(became: Became) -> None:
    """Somebody who spoke of the bottom face did not say that they saw the top."""
    newer = [found("scale", face="bottom")]
    changes = [d.change for d in became([found("scale", face="top")], newer).differences]
    assert sorted(changes) == ["appeared", "not-looked-at-again"]


def test_the_reason_for_not_looking_is_told(became: Became) -> None:
    """In the words it was given."""
    newer = [{**RAIL, **NOT_SEEN, "reason": "skid plate in the way"}]
    assert "skid plate in the way" in only(became([found("hole")], newer)).text


def test_a_side_nobody_said_is_looked_at_again_only_on_both(became: Became) -> None:
    """It may be on the other one."""
    older = [{"zone": "front-rail", "condition": "crack"}]
    both = [{**RAIL, **CLEAR, "side": "both"}]
    assert only(became(older, both)).change == "gone"
    assert only(became(older, [{**RAIL, **CLEAR}])).change == "not-looked-at-again"


def test_new_where_somebody_looked_then(became: Became) -> None:
    """Looked at and nothing said is told apart from never looked at."""
    seen = only(became([{**RAIL, **CLEAR}], [found("crack")]))
    unseen = only(became([], [found("crack")]))
    assert seen.change == unseen.change == "appeared"
    assert "looked at then, and nothing of the kind was said" in seen.text
    assert "Nobody looked there then, so nobody knows since when" in unseen.text


def test_doubt_hedge_and_metal_not_reached_are_told(became: Became) -> None:
    """A comparison is no surer than what it rests on."""
    older = found("hole", certainty="tentative", doubts=("sounds like pole",))
    text = only(became([older], [found("scale")])).text
    assert "then hole, tentative (repair, maybe misheard)" in text
    assert "scale (repair, metal not reached)" in text


def test_places_that_only_the_older_log_saw_are_listed(became: Became) -> None:
    """Even where nothing was found there; and counted."""
    comparison = became([{**RAIL, **CLEAR, "side": "both"}], [{**RAIL, **CLEAR}])
    difference = only(comparison)
    assert (difference.change, difference.side) == ("not-looked-at-again", "right")
    assert difference.text == "Right front rail: looked at then, not looked at again."
    assert comparison.places is not None
    assert (comparison.places["both"], comparison.places["then"]) == (1, 1)


def test_an_inside_that_only_the_older_log_saw_is_listed(became: Became) -> None:
    """A cavity that was clear then may not be now."""
    kick = {"zone": "kick-up", "side": "left", **CLEAR}
    difference = only(became([kick, {**kick, "face": "interior"}], [kick]))
    assert difference.text.startswith("Left kick-up, inside: looked at then, not looked at again")


def test_worst_changes_come_first_and_the_worst_grade_within(became: Became) -> None:
    """What a buyer has to know stands on top."""
    older = [found("surface-rust"), {"zone": "sill", "side": "left", "condition": "hole"}]
    newer = [
        {"zone": "sill", "side": "right", "condition": "surface-rust"},
        {"zone": "shock-mount", "side": "left", "condition": "crack"},
        found("hole"),
    ]
    told = [(d.change, d.zone) for d in became(older, newer).differences]
    assert told == [
        ("worse", "front-rail"),
        ("appeared", "shock-mount"),
        ("appeared", "sill"),
        ("not-looked-at-again", "sill"),
    ]


def test_hostile_text_is_shown_inert_and_short(became: Became) -> None:
    """A landmark may hold anything, at any length."""
    text = only(became([], [found("hole", landmark="\x1b[31mby‮" + "x" * 100_000)])).text
    assert text.isprintable()
    assert len(text) <= 1200
