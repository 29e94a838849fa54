"""What holds for the grade of any finding whatever, whichever slots it has."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from hypothesis import given
from hypothesis import strategies as st

from voicelog.domain.entry import Entry, Kind, Question
from voicelog.domain.grade import Grade
from voicelog.domain.slot import CONDITIONS, PROBES, SLOTS, Spec
from voicelog.findings.grading import Grader

ZONES = (
    *("front-rail", "mid-rail", "kick-up", "frame-horn", "outrigger", "rear-cross-member"),
    *("shock-mount", "control-arm-mount", "tow-hitch", "cab-mount", "crush-section", "floor-pan"),
    *("bulkhead", "sill", "fuel-line", "brake-line", "fuel-tank", "spare-carrier", "nowhere"),
)
WORDS = (
    *("", "light pitting", "small dent", "kinked", "riveted", "fuel", "not a dent", "no rot but"),
    *("tacked on and lifting", "dented, brake fluid", "not just light pitting"),
)
PROBE_ORDER = ("firm", None, *PROBES[1:])


def values(name: str, spec: Spec) -> st.SearchStrategy[Any]:
    """Values of one slot, plausible or not."""
    if name == "zone":
        return st.sampled_from(ZONES)
    if name == "condition":
        return st.sampled_from((*CONDITIONS, "something-new"))
    if name == "landmark":
        return st.sampled_from(("", "about a foot from it", "from the cab mount", "lift point"))
    if spec.kind == "word":
        return st.sampled_from(spec.choices)
    if spec.kind == "count":
        return st.integers(1, 50)
    low = -50.0 if spec.kind == "percent" else 0.0
    return st.floats(low, 700.0, allow_nan=False)


SLOT_VALUES = {name: values(name, spec) for name, spec in SLOTS.items()}
ANY_SLOTS = st.fixed_dictionaries({}, optional=SLOT_VALUES)


def finding(slots: dict[str, Any], text: str = "") -> Entry:
    """A finding with these slots; those that are None are left out."""
    known = {name: value for name, value in slots.items() if value is not None}
    return Entry("e1.1", "u1", "2026-01-05T08:00:00Z", Kind.FINDING, known, text)


@given(slots=ANY_SLOTS, text=st.sampled_from(WORDS))
def test_every_finding_has_a_grade_and_a_rule_for_it(
    slots: dict[str, Any], text: str, grader: Grader
) -> None:
    """Whatever was said, and each rule is named once."""
    graded = grader.grade(finding(slots, text))
    assert graded.grade in Grade
    assert len(graded.rules) == len(set(graded.rules)) >= 1


@given(slots=ANY_SLOTS, text=st.sampled_from(WORDS))
def test_no_worse_probe_gives_a_better_grade(
    slots: dict[str, Any], text: str, grader: Grader
) -> None:
    """From firm through unprobed to gone, all else equal."""
    ranks = [
        grader.grade(finding({**slots, "probe": probe}, text)).computed.rank
        for probe in PROBE_ORDER
    ]
    assert ranks == sorted(ranks)


@given(
    slots=ANY_SLOTS,
    text=st.sampled_from(WORDS),
    distances=st.lists(st.floats(0.0, 700.0), min_size=2, max_size=5),
)
def test_nearer_is_never_better(
    slots: dict[str, Any], text: str, distances: list[float], grader: Grader
) -> None:
    """A distance that was said is never worse than a smaller one."""
    ranks = [
        grader.grade(finding({**slots, "mount_distance_mm": far}, text)).computed.rank
        for far in sorted(distances, reverse=True)
    ]
    assert ranks == sorted(ranks)


@given(
    slots=ANY_SLOTS,
    nominal_mm=st.floats(0.5, 15.0),
    readings=st.lists(st.floats(0.0, 15.0), min_size=2, max_size=5),
)
def test_thinner_is_never_better(
    slots: dict[str, Any], nominal_mm: float, readings: list[float], grader: Grader
) -> None:
    """Against the same nominal."""
    ranks = [
        grader.grade(
            finding({**slots, "nominal_mm": nominal_mm, "thickness_mm": reading})
        ).computed.rank
        for reading in sorted(readings, reverse=True)
    ]
    assert ranks == sorted(ranks)


@given(slots=ANY_SLOTS, spoken=st.sampled_from(tuple(Grade)))
def test_a_spoken_grade_counts_unless_the_metal_is_unsafe(
    slots: dict[str, Any], spoken: Grade, grader: Grader
) -> None:
    """It changes neither the computed grade nor the rules; *unsafe* stands."""
    unspoken = grader.grade(finding({**slots, "spoken_grade": None}))
    graded = grader.grade(finding({**slots, "spoken_grade": str(spoken)}))
    assert (graded.computed, graded.rules) == (unspoken.computed, unspoken.rules)
    expected = Grade.UNSAFE if graded.computed is Grade.UNSAFE else spoken
    assert graded.grade is expected


@given(slots=ANY_SLOTS, options=st.lists(st.sampled_from(ZONES), min_size=1, max_size=3))
def test_a_place_that_is_open_is_never_graded_softer(
    slots: dict[str, Any], options: list[str], grader: Grader
) -> None:
    """Without a place it is at least as bad as at any part of the load path."""
    unplaced = grader.grade(finding({**slots, "zone": None})).computed.rank
    rails = [z for z in options if z in ("front-rail", "mid-rail", "kick-up", "outrigger")]
    placed = [grader.grade(finding({**slots, "zone": zone})).computed.rank for zone in rails]
    assert unplaced >= max(placed, default=0)


@given(
    slots=ANY_SLOTS,
    text=st.sampled_from(WORDS),
    around=st.sampled_from(("", "there is a hole, ", "HOLE. ", "it's ")),
    questions=st.sampled_from(((), (Question("zone", ("tow-hitch", "floor-pan")),))),
)
def test_a_grade_remembered_is_the_one_worked_out(
    slots: dict[str, Any],
    text: str,
    around: str,
    questions: tuple[Question, ...],
    grader: Grader,
) -> None:
    """A grader that has graded thousands of findings says what the rules give for this one alone."""
    entry = replace(finding(slots, around + text), questions=questions)
    graded, draft = grader.grade(entry), grader.draft(entry)
    assert (graded.computed, graded.rules, graded.unproven, graded.cautions) == (
        draft.grade, draft.rules, draft.unproven, draft.cautions,
    )  # fmt: skip
    assert grader.grade(entry) == graded
