"""Grading: rules named, grades spoken, words said, cautions, open places."""

from __future__ import annotations

import time
from collections.abc import Callable
from dataclasses import replace
from typing import Any

import pytest

from voicelog.domain.entry import Finding, Question
from voicelog.domain.grade import Grade, Rule, RuleSet
from voicelog.domain.slot import CONDITIONS
from voicelog.domain.zone import ZoneMap
from voicelog.errors import GrammarFault
from voicelog.findings.grading import Graded, Grader, as_read, worst_said

Read = Callable[..., Graded]


def test_rules_are_named_base_first(read: Read) -> None:
    """Every rule that fired is named, so that the grade can be checked."""
    graded = read("shock-mount surface-rust probe=through certainty=tentative")
    assert graded.rules == (
        "marks-on-structure",
        "probe-failed",
        "probe-failed-at-mounting",
        "tentative",
    )


@pytest.mark.parametrize(
    ("finding", "spoken", "counts"),
    [
        ("mid-rail scale", "cosmetic", "cosmetic"),
        ("mid-rail surface-rust", "repair", "repair"),
        ("mid-rail surface-rust", "unsafe", "unsafe"),
        ("shock-mount hole", "cosmetic", "unsafe"),
        ("shock-mount hole", "repair", "unsafe"),
    ],
)
def test_a_spoken_grade_counts_but_never_lowers_unsafe(
    finding: str, spoken: str, counts: str, read: Read
) -> None:
    """Both grades are kept; *unsafe* stands whatever was said."""
    graded = read(finding, spoken_grade=spoken)
    assert graded.grade == counts
    assert graded.spoken == spoken
    assert graded.computed == read(finding).grade


@pytest.mark.parametrize(
    ("finding", "text", "expected"),
    [
        ("mid-rail pitting", "light pitting, firm", "treat"),
        ("mid-rail pitting loss_percent=5 layer=metal", "light pitting", "treat"),
        ("mid-rail pitting", "pitting in a bad light", "repair"),
        ("mid-rail pitting", "that is not just light pitting", "repair"),
        ("crush-section pitting", "light pitting", "repair"),
        ("mid-rail deformation", "small dent in it", "treat"),
        ("mid-rail deformation", "dented and kinked", "unsafe"),
        ("mid-rail deformation", "not a dent", "unsafe"),
        ("outrigger deformation", "bent", "repair"),
        ("tow-hitch deformation", "kinked", "repair"),
        ("cab-mount deformation", "twisted", "repair"),
        ("sill deformation", "buckled", "treat"),
        ("shock-mount deformation", "small dent", "repair"),
        ("tow-hitch deformation", "small dent", "repair"),
        ("crush-section deformation", "dented", "repair"),
        ("brake-line deformation", "dented", "repair"),
        ("floor-pan old-repair", "riveted patch", "treat"),
        ("sill old-repair", "plate screwed on", "treat"),
        ("brake-line old-repair", "riveted clip", "treat"),
        ("mid-rail old-repair", "riveted patch", "repair"),
        ("mid-rail old-repair", "welded plate, nothing tacked", "repair"),
        ("mid-rail old-repair", "welded plate, not riveted", "treat"),
        ("gearbox-cross-member leak", "smells of Fuel", "unsafe"),
        ("gearbox-cross-member leak", "oil leak", "treat"),
    ],
)
def test_the_finding_s_own_words(finding: str, text: str, expected: str, read: Read) -> None:
    """Some rules ask what was said; a negated phrase does not count.

    A patch riveted or screwed on counts against structure only: Virginia 19VAC30-70-640 takes one in
    a floor.
    """
    assert read(finding, text=text).grade == expected


@pytest.mark.parametrize(
    ("finding", "part_of_caution"),
    [
        ("floor-pan hole", "people aboard"),
        ("bulkhead surface-rust probe=through", "people aboard"),
        ("brake-line surface-rust", "pressure"),
        ("fuel-tank surface-rust", "pick or scrape"),
        ("brake-line pitting", "No driving"),
        ("shock-mount crack", "drive or tow"),
        ("tow-hitch recoated", "probe here"),
        ("mid-rail hole", "how far"),
    ],
)
def test_cautions(finding: str, part_of_caution: str, read: Read) -> None:
    """What has to be said at a finding comes with it."""
    assert part_of_caution in " ".join(read(finding).cautions)


@pytest.mark.parametrize("finding", ["sill hole", "mid-rail surface-rust probe=soft"])
def test_rot_at_a_lift_point(finding: str, read: Read) -> None:
    """Whoever stands under the vehicle is told to come out."""
    cautions = read(finding, landmark="by the jacking point").cautions
    assert any("come out from under" in caution for caution in cautions)


def test_cautions_are_said_once_and_not_without_cause(read: Read) -> None:
    """The same sentence from several rules is one; a distance that was said is not asked for."""
    cautions = read("shock-mount hole probe=through").cautions
    assert cautions == ("Do not drive or tow this vehicle.",)
    assert read("mid-rail hole mount_distance_mm=900").cautions == ()


@pytest.mark.parametrize("zone", ["mid-rail", "shock-mount", "sill", "brake-line", "fuel-tank"])
def test_a_hedge_is_named_and_changes_nothing(zone: str, read: Read) -> None:
    """Tentative findings are graded like stated ones, and say so."""
    for condition in CONDITIONS:
        stated, hedged = (
            read(f"{zone} {condition}{hedge}") for hedge in ("", " certainty=tentative")
        )
        assert hedged.rules == (*stated.rules, "tentative")
        assert replace(hedged, rules=stated.rules) == stated


def test_unsafe_always_says_do_not_drive(zone_map: ZoneMap, rules: RuleSet) -> None:
    """Every rule that can make a finding unsafe carries the caution."""
    unsafe = [rule for rule in rules.rules if "unsafe" in (rule.grade, rule.at_least)]
    assert len(unsafe) > 15
    assert all(rule.caution.startswith("Do not drive or tow") for rule in unsafe)


def test_an_open_place_is_graded_by_the_worst_it_may_be(grade: Read) -> None:
    """Of the options asked about the worst counts; with none, any part of the load path."""
    options = Question("zone", ("outrigger", "front-rail"))
    crack = grade(condition="crack", questions=(options,))
    assert (crack.grade, crack.rules[0]) == ("unsafe", "crack-in-rail")
    mild = Question("zone", ("outrigger", "rear-cross-member"))
    assert grade(condition="crack", questions=(mild,)).grade == "repair"
    assert grade(condition="crack").grade == "unsafe"
    assert grade(condition="hole").grade == "repair"


def test_options_the_map_lacks_never_soften(grade: Read) -> None:
    """A place unknown to the map is taken for load path, beside the options that are known."""
    options = Question("zone", ("sill", "no-such-place"))
    assert grade(condition="crack", questions=(options,)).grade == "unsafe"
    assert grade(zone="no-such-place", condition="crack").grade == "unsafe"


def test_a_question_about_something_else_is_no_place(grade: Read) -> None:
    """A question about the side leaves the place open."""
    asked = Question("side", ("left", "right"))
    assert grade(condition="crack", questions=(asked,)).grade == "unsafe"


def test_a_map_without_a_load_path_still_grades(
    zone_map: ZoneMap, rules: RuleSet, make: Any
) -> None:
    """Then an open place is graded by the role alone."""
    sill = ZoneMap("bare", "Bare", {"sill": zone_map["sill"]})
    assert Grader(sill, rules).grade(make(condition="filler")).grade == "repair"


@pytest.mark.parametrize("grade", [None, Grade.REPAIR])
def test_a_table_that_leaves_findings_ungraded_is_refused(
    grade: Grade | None, zone_map: ZoneMap
) -> None:
    """No finding may fall through: neither where no rule grades, nor where those that do ask for more."""
    hole = Rule("hole", "Holes.", "ours", {"condition": ("hole",)}, grade=grade)
    with pytest.raises(GrammarFault, match="without a grade"):
        Grader(zone_map, RuleSet("thin", (hole,), {}))


def test_one_rule_for_everything_is_a_table(zone_map: ZoneMap, make: Any) -> None:
    """It grades whatever there is."""
    anything = Rule("anything", "Anything.", "ours", {}, grade=Grade.TREAT)
    grader = Grader(zone_map, RuleSet("bare", (anything,), {}))
    assert grader.grade(make(zone="sill", condition="hole")).grade is Grade.TREAT


def test_grading_a_finding_takes_less_than_a_fifth_of_a_millisecond(
    grader: Grader, make: Any
) -> None:
    """At its best of twenty rounds, for a finding that many rules look at."""
    entry = make(zone="shock-mount", condition="scale", probe="dull", text="scale, thuds")
    rounds = []
    for _ in range(20):
        start = time.perf_counter()
        for _ in range(50):
            grader.grade(entry)
        rounds.append((time.perf_counter() - start) / 50)
    assert min(rounds) < 0.0002


def test_the_worse_of_what_was_said_and_what_was_worked_out(make: Any) -> None:
    """An entry that is graded at all has a worst grade; one that is not has none."""
    entry = make(zone="sill", condition="hole")
    assert worst_said(Finding(entry)) is None
    assert worst_said(Finding(entry, grade=Grade.TREAT)) is Grade.TREAT
    spoken = Finding(
        entry, grade=Grade.TREAT, computed_grade=Grade.TREAT, spoken_grade=Grade.UNSAFE
    )
    assert worst_said(spoken) is Grade.UNSAFE
    computed = Finding(entry, grade=Grade.TREAT, computed_grade=Grade.REPAIR)
    assert worst_said(computed) is Grade.REPAIR


def test_rules_read_a_wall_loss_before_it_is_rounded(make: Any) -> None:
    """One a hair under a limit, shown as the limit, is still under it."""
    entry = make(zone="mid-rail", thickness_mm=2.0, loss_percent=25.0)
    assert as_read(Finding(entry)) is entry
    assert as_read(Finding(entry, loss_percent=24.96)).slots == {
        "zone": "mid-rail", "thickness_mm": 2.0, "loss_percent": 24.96,
    }  # fmt: skip
