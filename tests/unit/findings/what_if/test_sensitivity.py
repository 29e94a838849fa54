"""Which single open place or entry could change the verdict."""

from __future__ import annotations

import time
from collections.abc import Callable
from dataclasses import replace
from itertools import cycle
from typing import Any

import pytest

from voicelog.domain.advice import Swing
from voicelog.domain.entry import Add, Entry, Inspection, Kind, Question
from voicelog.domain.grade import RuleSet
from voicelog.domain.zone import Rails, ZoneMap
from voicelog.findings.coverage import places
from voicelog.findings.ledger import Ledger
from voicelog.findings.what_if.rejudging import Rejudging
from voicelog.findings.what_if.sensitivity import alike, place_of, swings
from voicelog.findings.what_if.suppositions import Suppositions

Swinging = Callable[..., tuple[Swing, ...]]

DANGER = "do-not-drive"
NO_DANGER = "no-danger-found-where-examined"


@pytest.fixture
def swinging(inspect: Callable[..., Inspection], zone_map: ZoneMap, rules: RuleSet) -> Swinging:
    """What could change the verdict over these entries."""

    def over(*entries: Entry, rails: Rails = Rails.OPEN) -> tuple[Swing, ...]:
        return swings(inspect(*entries, rails=rails), zone_map, rules, rails)

    return over


def entries_of_every_kind(make: Any) -> list[Entry]:
    """Findings, looks, doubts, hedges, other readings, lost faults, mud, a place out of reach."""
    return [
        make(zone="mid-rail", side="left", condition="scale"),
        make(zone="mid-rail", side="right", condition="hole", certainty="tentative"),
        make(zone="shock-mount", side="left", condition="blistering", doubts=("unclear",)),
        replace(
            make(zone="kick-up", side="left", condition="surface-rust", doubts=("unclear",)),
            runner_up={"zone": "kick-up", "side": "left", "condition": "crack"},
        ),
        replace(
            make(zone="rear-rail", side="left", condition="hole"),
            runner_up={"zone": "mid-rail", "side": "both", "condition": "hole"},
        ),
        make(Kind.CLEAR, zone="tow-hitch", doubts=("unclear",)),
        make(Kind.CLEAR, zone="sill", side="left"),
        make(Kind.REMARK, condition="hole", unplaced=True, doubts=("no place",)),
        make(zone="sill", side="right", condition="debris"),
        make(Kind.NOT_SEEN, zone="control-arm-mount", side="left", reason="shield"),
        make(Kind.NOT_SEEN, zone="control-arm-mount", side="right", face="interior"),
        make(Kind.PHOTO, zone="kick-up", side="right", face="interior", doubts=("unclear",)),
        make(zone="brake-line", condition="thinning", thickness_mm=0.6, nominal_mm=0.75),
        make(zone="fuel-tank", condition="debris"),
        make(condition="rust-weep", questions=(Question("zone", ("sill", "shock-mount")),)),
        make(zone="elsewhere", condition="scale"),
        make(zone="axle-bracket", condition="pitting"),
    ]


@pytest.mark.parametrize("rails", list(Rails))
@pytest.mark.parametrize("looked", [False, True])
def test_every_outcome_is_what_the_ledger_would_judge(
    rails: Rails, looked: bool, zone_map: ZoneMap, rules: RuleSet, make: Any, thorough: Any
) -> None:
    """Each open thing, each way it may turn out: really said, it gives drive, work and tier."""
    made = [*(thorough(without=("kick-up",)) if looked else ()), *entries_of_every_kind(make)]
    ledger = Ledger(zone_map, rules, rails)
    ledger.apply(map(Add, made))
    inspection = ledger.inspection()
    judged, count = Rejudging(inspection, zone_map, rules, rails), 0
    for one in Suppositions(inspection, zone_map, rules).all():
        for outcome in one.outcomes:
            anew = Ledger(zone_map, rules, rails)
            anew.take([*map(Add, made), *outcome.changes])
            told = anew.inspection().verdict
            assert judged.after(outcome.changes) == (told.drive, told.work, told.tier), outcome
            count += 1
    assert count > 30


def test_each_swing_tells_two_of_its_outcomes(
    zone_map: ZoneMap, rules: RuleSet, make: Any, inspect: Any
) -> None:
    """And at least one differs from how it stands; the gravest comes first."""
    inspection = inspect(*entries_of_every_kind(make))
    judged = Rejudging(inspection, zone_map, rules, Rails.OPEN)
    told = swings(inspection, zone_map, rules, Rails.OPEN)
    open_now = list(Suppositions(inspection, zone_map, rules).all())
    for swing in told:
        (one,) = (one for one in open_now if one.gap == swing.gap)
        answers = {judged.after(outcome.changes) for outcome in one.outcomes}
        assert {swing.if_bad, swing.if_good} <= answers
        assert swing.supposed in {outcome.said for outcome in one.outcomes}
        assert {swing.if_bad, swing.if_good} != {judged.after(())}
    danger = [swing.if_bad[0] == DANGER for swing in told]
    assert danger == sorted(danger, reverse=True)


def test_nothing_open_nothing_swings(swinging: Swinging, thorough: Any) -> None:
    """A frame seen and probed all over."""
    assert swinging(*thorough()) == ()


def test_one_mounting_left_out(swinging: Swinging, thorough: Any, make: Any) -> None:
    """A hole there forbids driving; clear, it lets the frame be called what it is."""
    one_side = make(Kind.CLEAR, zone="shock-mount", side="left", probe="firm")
    (swing,) = swinging(*thorough(without=("shock-mount",)), one_side)
    assert swing.if_bad == (DANGER, "local", "repairable")
    assert swing.if_good == (NO_DANGER, "none", "sound")
    assert swing.supposed == "there is a hole"
    assert swing.text == (
        "Right shock mount (nobody looked): if there is a hole, do not drive or tow it, and it needs "
        "local repairs; if it is clear and firm, no danger is found where examined, and the frame is "
        "called sound"
    )
    assert swing.text.endswith(swing.then)


def test_a_cavity_is_supposed_from_the_inside(swinging: Swinging, thorough: Any, make: Any) -> None:
    """The outside was seen."""
    outside = make(Kind.CLEAR, zone="kick-up", side="both", probe="firm")
    told = swinging(*thorough(without=("kick-up",)), outside)
    assert [swing.gap.face for swing in told] == ["interior", "interior"]
    assert {swing.supposed for swing in told} == {"there is a hole inside and a crack"}
    assert {swing.if_bad[0] for swing in told} == {DANGER}
    assert {swing.if_good[0] for swing in told} == {
        "not-enough-seen"
    }  # the other one is still shut


@pytest.mark.parametrize(
    ("zone", "supposed"),
    [
        ("mid-rail", "there is a hole and a crack"),
        ("frame-horn", "there is a hole and a crack"),
        ("shock-mount", "there is a hole"),
        ("outrigger", "there is a hole"),
        ("brake-line", "there is a leak"),
    ],
)
def test_a_crack_is_supposed_where_it_is_worse_than_a_hole(
    zone: str, supposed: str, swinging: Swinging, thorough: Any
) -> None:
    """A rail that nobody saw may be cracked, and that forbids driving."""
    first = swinging(*thorough(without=(zone,)))[0]
    assert (first.gap.zone, first.supposed) == (zone, supposed)
    if "crack" in supposed:
        assert first.if_bad[0] == DANGER


def test_both_rails_at_one_station(swinging: Swinging, thorough: Any, make: Any) -> None:
    """With the left one rotten, the right one decides whether the frame can be saved."""
    rotten = make(zone="rear-rail", side="left", condition="hole")
    told = swinging(*thorough(without=("rear-rail",)), rotten)
    assert told[0].gap.zone == "rear-rail"
    assert told[0].if_bad[1:] == ("replacement-or-specialist", "beyond-repair")


def test_a_doubtful_danger_may_not_have_been_said(
    swinging: Swinging, thorough: Any, make: Any
) -> None:
    """The only unsafe entry may be misheard: withdrawn, nothing is left of it."""
    heard = make(zone="shock-mount", side="left", condition="hole", doubts=("unclear",))
    (swing,) = swinging(*thorough(), heard)
    assert (swing.gap.entry, swing.if_bad[0], swing.if_good[0]) == (heard.id, DANGER, NO_DANGER)
    assert swing.text.endswith(f"({heard.id})")


def test_the_other_reading_may_be_worse(swinging: Swinging, thorough: Any, make: Any) -> None:
    """Heard as marks, with a crack close behind; not doubtful, and told all the same."""
    meant = {"zone": "mid-rail", "side": "left", "condition": "crack"}
    marks = make(zone="mid-rail", side="left", condition="staining", probe="firm")
    (swing,) = swinging(*thorough(), replace(marks, runner_up=meant))
    assert swing.supposed == "it was meant as crack"
    assert swing.if_bad[0] == DANGER
    assert swing.gap.reason == "it may have been heard otherwise"


def test_rust_nobody_probed_may_be_through(swinging: Swinging, thorough: Any, make: Any) -> None:
    """Or it is proven, by what proves it."""
    rust = make(zone="shock-mount", side="left", condition="surface-rust")
    (swing,) = swinging(*thorough(), rust)
    assert swing.gap.why == "unproven"
    assert (swing.if_bad[0], swing.if_good[2]) == (DANGER, "sound")
    assert "if the probe found firm metal" in swing.text


def test_a_hedge_is_an_open_question(swinging: Swinging, thorough: Any, make: Any) -> None:
    """Graded as if it were certain; it may be nothing."""
    maybe = make(zone="sill", side="left", condition="hole", certainty="tentative")
    (swing,) = swinging(*thorough(), maybe)
    assert swing.gap.reason == "said with a hedge"
    assert swing.if_good == (NO_DANGER, "none", "sound")


def test_a_distance_that_nobody_said_is_an_open_question(
    swinging: Swinging, thorough: Any, make: Any
) -> None:
    """Rot in a rail: near a mounting it forbids driving, away from one it does not."""
    hole = make(zone="mid-rail", side="left", condition="hole")
    (swing,) = swinging(*thorough(), hole)
    assert swing.gap.reason == "its distance from the nearest mounting was not said"
    assert swing.supposed.startswith("it was within 300 mm of a steering")
    assert (swing.if_bad[0], swing.if_good[0]) == (DANGER, NO_DANGER)
    assert swinging(*thorough(), make(**hole.slots, mount_distance_mm=900)) == ()


def test_nobody_is_sent_to_probe_a_line(swinging: Swinging) -> None:
    """What may be wrong with lines and tanks is a leak, and they are looked at."""
    told = {swing.gap.zone: swing for swing in swinging()}
    for zone in ("brake-line", "fuel-line", "fuel-tank"):
        assert told[zone].supposed == "there is a leak"
        assert told[zone].if_bad[0] == DANGER
        assert "probe" not in told[zone].text
        assert "firm" not in told[zone].text


def test_hostile_text_is_shown_inert(swinging: Swinging, make: Any) -> None:
    """A reason comes from outside."""
    blocked = make(
        Kind.NOT_SEEN, zone="shock-mount", side="left", reason="mud\x1b[2J\n" + "x" * 999
    )
    texts = "".join(swing.text for swing in swinging(blocked))
    assert texts.isprintable()
    assert "x" * 200 not in texts


def test_what_differs_in_its_place_only_is_told_together(
    swinging: Swinging, zone_map: ZoneMap, make: Any
) -> None:
    """Everything once; a text begins with its place."""
    told = swinging(make(zone="mid-rail", side="left", condition="scale"))
    groups = alike(told)
    assert [swing for group in groups for swing in group] != []
    assert sum(map(len, groups)) == len(told) > len(groups)
    assert all(swing.text.startswith(place_of(swing.gap, zone_map)) for swing in told)


def test_a_long_log_is_judged_in_good_time(
    zone_map: ZoneMap, rules: RuleSet, make: Any, inspect: Any
) -> None:
    """300 entries, most of them open: far less than judging everything anew (0.15 s measured)."""
    conditions = cycle(("scale", "surface-rust", "pitting", "rust-weep", "hole", "blistering"))
    spots = cycle(place for _, place in places(zone_map))
    made = [
        make(zone=zone, condition=condition, **({"side": side} if side else {}))
        for (zone, side), condition, _ in zip(spots, conditions, range(300), strict=False)
    ]
    inspection = inspect(*made)
    swings(inspection, zone_map, rules, Rails.OPEN)
    began = time.process_time()
    assert len(inspection.gaps) > 150
    swings(inspection, zone_map, rules, Rails.OPEN)
    assert time.process_time() - began < 1.0  # of this process; ten times what it takes
