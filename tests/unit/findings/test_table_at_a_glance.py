"""The shipped severity table at a glance: what each condition is worth at each kind of place, by probe.

Every cell is a promise: who changes a rule sees here what else that changes.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator

import pytest

from voicelog.findings.grading import Graded

Read = Callable[..., Graded]

PLACES = (
    "mid-rail", "shock-mount", "cab-mount", "crush-section", "frame-horn", "sill", "floor-pan", "brake-line",
    "fuel-tank", "spare-carrier",
)  # fmt: skip
"""One of each role, and those that have rules of their own."""

GRADES = {"c": "cosmetic", "t": "treat", "r": "repair", "u": "unsafe"}

TABLE = {
    "": """
    blistering       t? t? t? t? t? t? t? t? t? t?
    blocked-drain    t? t? t? t? t? t? t? t? t? t?
    chipped-coating  c? c? c? c? c? c. c. c. c. c.
    crack            u. u. r. u. u. r. r. u. u. r.
    debris           t? t? t? t? t? t? t? t? t? t?
    deformation      u. r. r. r. u. t. t. r. t. t.
    delamination     r? u? r? r? r? r? r? r. r? r?
    filler           r? u? r? r? r? t? t? t? r? t?
    hole             r. u. r. u. r. r. r. u. u. r.
    leak             t. t. t. t. t. t. t. u. u. t.
    missing-part     r. u. r. r. r. r. r. r. r. r.
    oil-film         c? c? c? c? c? c. c. c. c. c.
    old-repair       t? t? t? t? t? t? t? t? r? t?
    pack-rust        r? u? r? r? r? r? r? r. r? r?
    peeling-coating  t? t? t? t? t? t? t? t? t? t?
    pitting          r? r? r? r? r? r? r? r. r? r?
    recoated         c? c? c? c? c? c. c. c. c. c.
    rust-weep        t? t? t? t? t? t? t? t? t? t?
    scale            r? r? r? r? r? r? r? r. r? r?
    seized-fixing    t. r. t. t. t. t. t. t. t. t.
    soft-spot        r. u. r. u. r. r. r. u. r. r.
    staining         c? c? c? c? c? c. c. c. c. c.
    surface-rust     c? c? c? t? c? c. c. t. c. c.
    thinning         t? t? t? t? t? t? t? t? t? t?
    wasted-fixing    t. r. t. t. t. t. t. t. t. t.
    worn-hole        t. r. t. t. t. t. t. t. t. t.
    """,
    "firm": """
    blistering       t? t? t? t? t? t? t? t? t? t?
    blocked-drain    t? t? t? t? t? t? t? t? t? t?
    chipped-coating  c. c. c. c. c. c. c. c. c. c.
    crack            u. u. r. u. u. r. r. u. u. r.
    debris           t? t? t? t? t? t? t? t? t? t?
    deformation      u. r. r. r. u. t. t. r. t. t.
    delamination     r. u. r. r. r. r. r. r. r. r.
    filler           r? u? r? r? r? t? t? t? r? t?
    hole             r. u. r. u. r. r. r. u. u. r.
    leak             t. t. t. t. t. t. t. u. u. t.
    missing-part     r. u. r. r. r. r. r. r. r. r.
    oil-film         c. c. c. c. c. c. c. c. c. c.
    old-repair       t? t? t? t? t? t? t? t? r? t?
    pack-rust        r. u. r. r. r. r. r. r. r. r.
    peeling-coating  t? t? t? t? t? t? t? t? t? t?
    pitting          r? r? r? r? r? t. t. r. t. t.
    recoated         c. c. c. c. c. c. c. c. c. c.
    rust-weep        t? t? t? t? t? t? t? t? t? t?
    scale            r? r? r? r? r? t. t. r. t. t.
    seized-fixing    t. r. t. t. t. t. t. t. t. t.
    soft-spot        r. u. r. u. r. r. r. u. r. r.
    staining         c. c. c. c. c. c. c. c. c. c.
    surface-rust     c. c. c. t. c. c. c. t. c. c.
    thinning         t? t? t? t? t? t? t? t? t? t?
    wasted-fixing    t. r. t. t. t. t. t. t. t. t.
    worn-hole        t. r. t. t. t. t. t. t. t. t.
    """,
    "dull": """
    blistering       r? r? r? r? r? r? r? r? r? r?
    blocked-drain    r? r? r? r? r? r? r? r? r? r?
    chipped-coating  t? t? t? t? t? t? t? t? t? t?
    crack            u? u? r? u? u? r? r? u? u? r?
    debris           r? r? r? r? r? r? r? r? r? r?
    deformation      u? u? r? u? u? r? r? u? r? r?
    delamination     r? u? r? u? r? r? r? u? r? r?
    filler           r? u? r? u? r? r? r? r? r? r?
    hole             r? u? r? u? r? r? r? u? u? r?
    leak             r? r? r? r? r? r? r? u? u? r?
    missing-part     r? u? r? u? r? r? r? u? r? r?
    oil-film         t? t? t? t? t? t? t? t? t? t?
    old-repair       r? r? r? r? r? r? r? r? r? r?
    pack-rust        r? u? r? u? r? r? r? u? r? r?
    peeling-coating  r? r? r? r? r? r? r? r? r? r?
    pitting          r? u? r? u? r? r? r? u? r? r?
    recoated         t? t? t? t? t? t? t? t? t? t?
    rust-weep        r? r? r? r? r? r? r? r? r? r?
    scale            r? u? r? u? r? r? r? u? r? r?
    seized-fixing    r? u? r? r? r? r? r? r? r? r?
    soft-spot        r? u? r? u? r? r? r? u? r? r?
    staining         t? t? t? t? t? t? t? t? t? t?
    surface-rust     t? t? t? r? t? t? t? r? t? t?
    thinning         r? r? r? r? r? r? r? r? r? r?
    wasted-fixing    r? u? r? r? r? r? r? r? r? r?
    worn-hole        r? u? r? r? r? r? r? r? r? r?
    """,
    "soft": """
    blistering       r. u. r. u. r. r. r. u. r. r.
    blocked-drain    r. u. r. u. r. r. r. u. r. r.
    chipped-coating  r. u. r. u. r. r. r. u. r. r.
    crack            u. u. r. u. u. r. r. u. u. r.
    debris           r. u. r. u. r. r. r. u. r. r.
    deformation      u. u. r. u. u. r. r. u. r. r.
    delamination     r. u. r. u. r. r. r. u. r. r.
    filler           r. u. r. u. r. r. r. u. r. r.
    hole             r. u. r. u. r. r. r. u. u. r.
    leak             r. u. r. u. r. r. r. u. u. r.
    missing-part     r. u. r. u. r. r. r. u. r. r.
    oil-film         r. u. r. u. r. r. r. u. r. r.
    old-repair       r. u. r. u. r. r. r. u. r. r.
    pack-rust        r. u. r. u. r. r. r. u. r. r.
    peeling-coating  r. u. r. u. r. r. r. u. r. r.
    pitting          r. u. r. u. r. r. r. u. r. r.
    recoated         r. u. r. u. r. r. r. u. r. r.
    rust-weep        r. u. r. u. r. r. r. u. r. r.
    scale            r. u. r. u. r. r. r. u. r. r.
    seized-fixing    r. u. r. u. r. r. r. u. r. r.
    soft-spot        r. u. r. u. r. r. r. u. r. r.
    staining         r. u. r. u. r. r. r. u. r. r.
    surface-rust     r. u. r. u. r. r. r. u. r. r.
    thinning         r. u. r. u. r. r. r. u. r. r.
    wasted-fixing    r. u. r. u. r. r. r. u. r. r.
    worn-hole        r. u. r. u. r. r. r. u. r. r.
    """,
}
"""Probe to the grades, their first letters, in the order of the places; a question mark stands for metal
that was not reached."""


def cells(probe: str) -> Iterator[tuple[str, str, str, bool]]:
    """Condition, place, grade and whether it is unproven."""
    for line in TABLE[probe].strip().splitlines():
        condition, *told = line.split()
        for zone, cell in zip(PLACES, told, strict=True):
            yield condition, zone, GRADES[cell[0]], cell[1] == "?"


@pytest.mark.parametrize("probe", TABLE)
def test_the_table(probe: str, grade: Read) -> None:
    """Every condition at every kind of place."""
    probed = {"probe": probe} if probe else {}
    due = list(cells(probe))
    told = [grade(zone=zone, condition=condition, **probed) for condition, zone, _, _ in due]
    assert [
        (condition, zone, str(graded.computed), graded.unproven)
        for (condition, zone, _, _), graded in zip(due, told, strict=True)
    ] == due


KINKS = (
    "kink", "kinks", "kinked", "sag", "sags", "sagging", "sagged", "bent", "bend", "buckled", "buckling", "crushed",
    "twisted", "bowed", "bowing", "creased", "crease", "folded", "distorted", "deformed", "out of shape",
    "out of true", "caved in", "pushed in", "pushed up", "bulged", "bulging", "collapsed", "collapsing", "squashed",
    "mangled", "tweaked", "wrinkled",
)  # fmt: skip
LIGHT = (
    "light pitting", "light pits", "lightly pitted", "slight pitting", "slightly pitted", "minor pitting",
    "shallow pitting", "shallow pits", "mild pitting",
)  # fmt: skip
FUELS = ("fuel", "petrol", "gasoline", "diesel", "brake fluid", "brake")
BAD_REPAIRS = (
    "failed", "failing", "failed repair", "bad repair", "coming off", "tacked", "tack welded", "tacked on", "riveted",
    "rivets", "pop riveted", "screwed on", "glued", "come loose", "lifting",
)  # fmt: skip
LIFT_POINTS = (
    "lift point", "lifting point", "lift pad", "lift arm", "jacking point", "jack point", "jack pad",
)  # fmt: skip
ROT = ("hole", "soft-spot", "delamination", "pack-rust", "crack")


@pytest.mark.parametrize(
    ("finding", "phrases", "rule"),
    [
        ("mid-rail deformation", KINKS, "kinked-rail"),
        ("frame-horn deformation", KINKS, "kinked-frame-horn"),
        *((f"{zone} deformation", ("dent", "dents", "dented"), "local-dent") for zone in (
            "mid-rail", "cab-mount", "sill", "spare-carrier",
        )),
        *((f"{zone} pitting", LIGHT, "light-pitting") for zone in (
            "mid-rail", "shock-mount", "cab-mount", "sill", "spare-carrier",
        )),
        ("outrigger leak", FUELS, "fuel-or-brake-fluid"),
        *((f"{zone} old-repair", BAD_REPAIRS, "failed-repair") for zone in (
            "mid-rail", "shock-mount", "cab-mount", "crush-section",
        )),
        *((f"sill {rot}", LIFT_POINTS, "lift-point-rot-said") for rot in ROT),
        *((f"sill surface-rust probe={bad}", LIFT_POINTS, "lift-point-failed-said") for bad in (
            "moves", "soft", "through",
        )),
    ],
)  # fmt: skip
def test_every_phrase_that_a_rule_asks_for(
    finding: str, phrases: tuple[str, ...], rule: str, read: Read
) -> None:
    """Said alone, it makes the rule fire; unsaid, the rule is silent."""
    silent = [
        phrase for phrase in phrases if rule not in read(finding, text=f"{phrase} there").rules
    ]
    assert silent == []
    assert rule not in read(finding, text="there").rules


@pytest.mark.parametrize("phrase", LIFT_POINTS)
@pytest.mark.parametrize(
    ("findings", "rule"),
    [
        (tuple(f"sill {rot}" for rot in ROT), "lift-point-rot"),
        (
            tuple(f"sill staining probe={p}" for p in ("moves", "soft", "through")),
            "lift-point-failed",
        ),
    ],
)
def test_every_landmark_that_a_rule_asks_for(
    phrase: str, findings: tuple[str, ...], rule: str, read: Read
) -> None:
    """As part of it, too; without it the rule is silent."""
    for finding in findings:
        assert rule in read(finding, landmark=f"next to the {phrase}").rules
        assert rule not in read(finding, landmark="next to the wheel").rules


@pytest.mark.parametrize(
    ("finding", "percent", "rule"),
    [
        ("mid-rail thinning", 10.0, "wall-loss-watch"),
        ("mid-rail thinning", 25.0, "wall-loss"),
        ("mid-rail thinning mount_distance_mm=300", 25.0, "wall-loss-near-mounting"),
        ("shock-mount thinning", 15.0, "wall-loss-at-mounting"),
        ("brake-line thinning", 33.3, "pipe-wall-loss"),
    ],
)
def test_a_wall_loss_counts_from_its_limit_on(
    finding: str, percent: float, rule: str, read: Read
) -> None:
    """At it, and not a hundredth below; half a percent more or less is another limit."""
    assert rule in read(finding, loss_percent=percent).rules
    assert rule not in read(finding, loss_percent=percent - 0.01).rules


@pytest.mark.parametrize(
    ("finding", "due"),
    [
        ("mid-rail hole", {"rail-distance-open"}),
        ("mid-rail soft-spot", {"rail-distance-open"}),
        ("mid-rail hole mount_distance_mm=900", set()),
        ("outrigger hole", set()),
        ("sill hole", set()),
    ],
)
def test_where_the_distance_would_decide(finding: str, due: set[str], read: Read) -> None:
    """Only in a main member, and only until somebody says it."""
    open_ones = {"rail-distance-open", "sill-distance-open"}
    assert open_ones & set(read(finding).rules) == due
