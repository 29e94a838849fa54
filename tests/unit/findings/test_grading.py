"""Grading, one test for each sentence of the design's section on it."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest

from voicelog.domain.entry import Question
from voicelog.domain.grade import Rule, RuleSet
from voicelog.domain.zone import ZoneMap
from voicelog.errors import GrammarFault
from voicelog.findings.grading import Graded, Grader

Grade = Callable[..., Graded]

STRUCTURE = ("mid-rail", "shock-mount", "cab-mount", "crush-section")


def slots(text: str) -> dict[str, Any]:
    """``"mid-rail hole mount_distance_mm=300"`` as slots: zone, condition, then the rest."""
    zone, condition, *rest = text.split()
    named = dict(part.split("=") for part in rest)
    given: dict[str, Any] = {"zone": zone, **named}
    numbers = {name: float(value) for name, value in named.items() if name.endswith(("mm", "nt"))}
    return {**given, **numbers} | ({} if condition == "-" else {"condition": condition})


@pytest.mark.parametrize(
    ("finding", "expected"),
    [
        # Marks and coatings.
        ("front-rail surface-rust probe=firm", "cosmetic"),
        ("front-rail staining", "cosmetic"),
        ("tow-hitch recoated", "cosmetic"),
        ("floor-pan oil-film", "cosmetic"),
        ("sill chipped-coating", "cosmetic"),
        ("kick-up rust-weep", "treat"),
        ("cab-mount debris", "treat"),
        ("sill blocked-drain", "treat"),
        ("kick-up blistering area_percent=10", "treat"),
        ("front-rail peeling-coating", "treat"),
        # Metal that is being eaten.
        ("sill scale probe=firm", "treat"),
        ("spare-carrier pitting probe=firm", "treat"),
        ("sill scale", "repair"),
        ("rear-cross-member scale", "repair"),
        ("rear-spring-hanger pitting probe=firm", "repair"),
        ("mid-rail delamination", "repair"),
        ("mid-rail pack-rust", "repair"),
        ("shock-mount delamination", "unsafe"),
        ("control-arm-mount pack-rust", "unsafe"),
        # Rot.
        ("mid-rail hole", "repair"),
        ("sill soft-spot", "repair"),
        ("mid-rail surface-rust probe=soft", "repair"),
        ("mid-rail surface-rust probe=moves", "repair"),
        ("mid-rail - probe=through", "repair"),
        ("shock-mount hole", "unsafe"),
        ("shock-mount surface-rust probe=moves", "unsafe"),
        ("rear-rail soft-spot mount_distance_mm=50.8", "unsafe"),
        ("mid-rail surface-rust probe=soft mount_distance_mm=120", "unsafe"),
        ("floor-pan hole mount_distance_mm=100", "unsafe"),
        # Cracks.
        ("front-rail crack", "unsafe"),
        ("kick-up crack", "unsafe"),
        ("frame-horn crack", "unsafe"),
        ("shock-mount crack certainty=tentative", "unsafe"),
        ("rear-cross-member crack", "repair"),
        ("outrigger crack", "repair"),
        ("sill crack", "repair"),
        # Crush section.
        ("crush-section surface-rust", "treat"),
        ("crush-section scale", "repair"),
        ("crush-section pitting", "repair"),
        ("crush-section hole count=2", "unsafe"),
        ("crush-section soft-spot", "unsafe"),
        ("crush-section crack", "unsafe"),
        ("crush-section surface-rust probe=moves", "unsafe"),
        # Fluid lines, tanks, leaks.
        ("brake-line surface-rust", "treat"),
        ("brake-line pitting", "repair"),
        ("fuel-line scale", "repair"),
        ("brake-line leak", "unsafe"),
        ("fuel-line hole", "unsafe"),
        ("brake-line crack", "unsafe"),
        ("brake-line surface-rust probe=soft", "unsafe"),
        ("fuel-tank leak", "unsafe"),
        ("fuel-tank hole", "unsafe"),
        ("fuel-tank surface-rust", "cosmetic"),
        ("gearbox-cross-member leak", "treat"),
        # Earlier work, shape, fixings.
        ("steering-box-mount old-repair", "treat"),
        ("mid-rail filler", "repair"),
        ("shock-mount filler", "unsafe"),
        ("wheel-arch filler", "treat"),
        ("mid-rail deformation", "unsafe"),
        ("tow-hitch deformation", "repair"),
        ("outrigger deformation", "repair"),
        ("sill deformation", "treat"),
        ("shock-mount missing-part", "unsafe"),
        ("cab-mount missing-part", "repair"),
        ("shock-mount wasted-fixing", "repair"),
        ("shock-mount seized-fixing", "repair"),
        ("shock-mount worn-hole", "repair"),
        ("cab-mount wasted-fixing", "treat"),
        ("cab-mount worn-hole", "treat"),
        # Floor and bulkhead.
        ("floor-pan hole size_mm=17.91", "repair"),
        ("bulkhead hole", "repair"),
        # What nobody foresaw.
        ("mid-rail something-new", "treat"),
        ("mid-rail -", "treat"),
    ],
)
def test_each_sentence_of_the_design(finding: str, expected: str, grade: Grade) -> None:
    """The grade that the design, or a published example, gives."""
    assert grade(**slots(finding)).grade == expected


@pytest.mark.parametrize(
    ("finding", "expected"),
    [
        ("mid-rail thinning thickness_mm=1.9 nominal_mm=2.5", "treat"),
        ("mid-rail thinning thickness_mm=1.524 nominal_mm=3.048", "repair"),
        ("mid-rail thinning thickness_mm=2.3 nominal_mm=2.5", "cosmetic"),
        ("mid-rail thinning thickness_mm=2.25 nominal_mm=2.5", "treat"),
        ("mid-rail thinning thickness_mm=1.875 nominal_mm=2.5", "repair"),
        ("mid-rail thinning loss_percent=25 mount_distance_mm=300", "unsafe"),
        ("mid-rail thinning loss_percent=24.9 mount_distance_mm=10", "treat"),
        ("shock-mount thinning thickness_mm=2.55 nominal_mm=3", "unsafe"),
        ("shock-mount thinning loss_percent=14.9", "treat"),
        ("shock-mount thinning loss_percent=9.9", "cosmetic"),
        ("mid-rail thinning thickness_mm=2.0", "treat"),
        ("mid-rail thinning", "treat"),
        ("mid-rail thinning thickness_mm=5.207 nominal_mm=4.7625", "cosmetic"),
        ("mid-rail surface-rust loss_percent=30", "repair"),
        ("brake-line surface-rust thickness_mm=0.5 nominal_mm=0.75", "unsafe"),
    ],
)
def test_wall_loss(finding: str, expected: str, grade: Grade) -> None:
    """The shop's limits: 10 % watched, 25 % repair, 15 % unsafe at critical mountings."""
    assert grade(**slots(finding)).grade == expected


@pytest.mark.parametrize(
    ("finding", "unproven"),
    [
        *((f"{zone} surface-rust", True) for zone in STRUCTURE),
        ("mid-rail surface-rust probe=firm", False),
        ("mid-rail surface-rust probe=dull", True),
        ("mid-rail surface-rust probe=through", False),
        ("sill surface-rust", False),
        ("mid-rail rust-weep", True),
        ("mid-rail debris", True),
        ("mid-rail blistering", True),
        ("mid-rail blistering method=scraped", False),
        ("mid-rail scale probe=firm", True),
        ("mid-rail scale loss_percent=5 layer=metal", False),
        ("mid-rail old-repair", True),
        ("mid-rail thinning loss_percent=20", True),
        ("mid-rail thinning loss_percent=20 layer=metal", False),
        ("mid-rail thinning thickness_mm=2", True),
        ("mid-rail hole", False),
        ("shock-mount crack", False),
        ("mid-rail something-new", True),
    ],
)
def test_unproven(finding: str, unproven: bool, grade: Grade) -> None:
    """A grade says so when the metal itself was not reached."""
    assert grade(**slots(finding)).unproven is unproven


@pytest.mark.parametrize(
    ("finding", "expected"),
    [
        ("mid-rail surface-rust probe=dull", "treat"),
        ("mid-rail surface-rust probe=dents", "treat"),
        ("shock-mount surface-rust probe=dull", "treat"),
        ("mid-rail blistering probe=dull", "repair"),
        ("mid-rail scale probe=dents", "repair"),
        ("shock-mount scale probe=dull", "unsafe"),
        ("mid-rail crack probe=dull", "unsafe"),
    ],
)
def test_dull_or_dents_is_one_step_worse_but_no_worse_than_soft(
    finding: str, expected: str, grade: Grade
) -> None:
    """One step worse than unprobed, unproven, and never beyond what a soft probe would give."""
    graded = grade(**slots(finding))
    assert graded.grade == expected
    assert graded.unproven
    assert graded.rules[-1] == "probe-doubtful"


def test_rules_are_named_base_first(grade: Grade) -> None:
    """Every rule that fired is named, so that the grade can be checked."""
    graded = grade(**slots("shock-mount surface-rust probe=through certainty=tentative"))
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
    finding: str, spoken: str, counts: str, grade: Grade
) -> None:
    """Both grades are kept; *unsafe* stands whatever was said."""
    graded = grade(**slots(finding), spoken_grade=spoken)
    assert graded.grade == counts
    assert graded.spoken == spoken
    assert graded.computed == grade(**slots(finding)).grade


@pytest.mark.parametrize(
    ("finding", "text", "expected"),
    [
        ("mid-rail pitting", "light pitting, firm", "treat"),
        ("mid-rail pitting", "pitting in a bad light", "repair"),
        ("mid-rail pitting", "that is not just light pitting", "repair"),
        ("crush-section pitting", "light pitting", "repair"),
        ("mid-rail deformation", "small dent in it", "treat"),
        ("mid-rail deformation", "dented and kinked", "unsafe"),
        ("mid-rail deformation", "not a dent", "unsafe"),
        ("mid-rail old-repair", "riveted patch", "repair"),
        ("mid-rail old-repair", "welded plate, nothing tacked", "repair"),
        ("mid-rail old-repair", "welded plate, not riveted", "treat"),
        ("gearbox-cross-member leak", "smells of Fuel", "unsafe"),
        ("gearbox-cross-member leak", "oil leak", "treat"),
    ],
)
def test_the_finding_s_own_words(finding: str, text: str, expected: str, grade: Grade) -> None:
    """Some rules ask what was said; a negated phrase does not count."""
    assert grade(**slots(finding), text=text).grade == expected


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
def test_cautions(finding: str, part_of_caution: str, grade: Grade) -> None:
    """What has to be said at a finding comes with it."""
    assert part_of_caution in " ".join(grade(**slots(finding)).cautions)


@pytest.mark.parametrize("finding", ["sill hole", "mid-rail surface-rust probe=soft"])
def test_rot_at_a_lift_point(finding: str, grade: Grade) -> None:
    """Whoever stands under the vehicle is told to come out."""
    cautions = grade(**slots(finding), landmark="by the jacking point").cautions
    assert any("come out from under" in caution for caution in cautions)


def test_cautions_are_said_once_and_not_without_cause(grade: Grade) -> None:
    """The same sentence from several rules is one; a distance that was said is not asked for."""
    cautions = grade(**slots("shock-mount hole probe=through")).cautions
    assert cautions == ("Do not drive or tow this vehicle.",)
    assert grade(**slots("mid-rail hole mount_distance_mm=900")).cautions == ()


def test_unsafe_always_says_do_not_drive(zone_map: ZoneMap, rules: RuleSet) -> None:
    """Every rule that can make a finding unsafe carries the caution."""
    unsafe = [rule for rule in rules.rules if "unsafe" in (rule.grade, rule.at_least)]
    assert len(unsafe) > 15
    assert all(rule.caution.startswith("Do not drive or tow") for rule in unsafe)


def test_an_open_place_is_graded_by_the_worst_it_may_be(grade: Grade) -> None:
    """Of the options asked about the worst counts; with none, any part of the load path."""
    options = Question("zone", ("outrigger", "front-rail"))
    crack = grade(condition="crack", questions=(options,))
    assert (crack.grade, crack.rules[0]) == ("unsafe", "crack-in-rail")
    mild = Question("zone", ("outrigger", "rear-cross-member"))
    assert grade(condition="crack", questions=(mild,)).grade == "repair"
    assert grade(condition="crack").grade == "unsafe"
    assert grade(condition="hole").grade == "repair"


def test_options_the_map_lacks_never_soften(grade: Grade) -> None:
    """A place unknown to the map is taken for load path, beside the options that are known."""
    options = Question("zone", ("sill", "no-such-place"))
    assert grade(condition="crack", questions=(options,)).grade == "unsafe"
    assert grade(zone="no-such-place", condition="crack").grade == "unsafe"


def test_a_question_about_something_else_is_no_place(grade: Grade) -> None:
    """A question about the side leaves the place open."""
    asked = Question("side", ("left", "right"))
    assert grade(condition="crack", questions=(asked,)).grade == "unsafe"


def test_a_map_without_a_load_path_still_grades(
    zone_map: ZoneMap, rules: RuleSet, make: Any
) -> None:
    """Then an open place is graded by the role alone."""
    sill = ZoneMap("bare", "Bare", {"sill": zone_map["sill"]})
    assert Grader(sill, rules).grade(make(condition="filler")).grade == "repair"


def test_a_table_that_leaves_findings_ungraded_is_refused(zone_map: ZoneMap) -> None:
    """No finding may fall through."""
    hole = Rule("hole", "Holes.", "ours", {"condition": ("hole",)}, grade=None)
    with pytest.raises(GrammarFault, match="without a grade"):
        Grader(zone_map, RuleSet("thin", (hole,), {}))
