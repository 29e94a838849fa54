"""Grades, one line for each sentence of the design's section on grading."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from voicelog.findings.grading import Graded

Read = Callable[..., Graded]

STRUCTURE = ("mid-rail", "shock-mount", "cab-mount", "crush-section")


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
def test_each_sentence_of_the_design(finding: str, expected: str, read: Read) -> None:
    """The grade that the design, or a published example, gives."""
    assert read(finding).grade == expected


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
        ("mid-rail thinning layer=metal", "treat"),
        ("mid-rail thinning thickness_mm=5.207 nominal_mm=4.7625", "cosmetic"),
        ("mid-rail surface-rust loss_percent=30", "repair"),
        ("brake-line surface-rust thickness_mm=0.5 nominal_mm=0.75", "unsafe"),
    ],
)
def test_wall_loss(finding: str, expected: str, read: Read) -> None:
    """The shop's limits: 10 % watched, 25 % repair, 15 % unsafe at critical mountings."""
    assert read(finding).grade == expected


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
        *(
            (f"{zone} {lifted} method={how}", False)
            for zone in ("mid-rail", "sill")
            for lifted in ("blistering", "peeling-coating")
            for how in ("scraped", "probed", "gauged")
        ),
        ("mid-rail blistering method=tapped", True),
        *(
            (f"{zone} {lifted} method={how}", True)
            for zone in ("brake-line", "fuel-tank")
            for lifted in ("blistering", "peeling-coating")
            for how in ("scraped", "probed")
        ),
        ("mid-rail scale probe=firm", True),
        ("mid-rail scale layer=metal", True),
        ("mid-rail scale loss_percent=5", True),
        ("mid-rail scale loss_percent=5 layer=metal", False),
        ("fuel-tank scale loss_percent=5 layer=metal", False),
        ("mid-rail old-repair", True),
        ("mid-rail thinning loss_percent=20", True),
        ("mid-rail thinning loss_percent=20 layer=metal", False),
        ("mid-rail thinning thickness_mm=2", True),
        ("mid-rail thinning layer=metal", True),
        ("mid-rail hole", False),
        ("shock-mount crack", False),
        ("mid-rail something-new", True),
    ],
)
def test_unproven(finding: str, unproven: bool, read: Read) -> None:
    """A grade says so when the metal itself was not reached."""
    assert read(finding).unproven is unproven


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
    finding: str, expected: str, read: Read
) -> None:
    """One step worse than unprobed, unproven, and never beyond what a soft probe would give."""
    graded = read(finding)
    assert graded.grade == expected
    assert graded.unproven
    assert graded.rules[-1] == "probe-doubtful"


@pytest.mark.parametrize("probe", ["moves", "soft", "through"])
@pytest.mark.parametrize(
    ("place", "expected"),
    [
        *((zone, "repair") for zone in ("mid-rail", "cab-mount", "sill", "spare-carrier")),
        *((zone, "unsafe") for zone in ("shock-mount", "tow-hitch", "crush-section")),
        *((zone, "unsafe") for zone in ("brake-line", "fuel-line")),
    ],
)
@pytest.mark.parametrize("mark", ["staining", "blistering", "debris"])
def test_metal_that_fails_under_the_probe(
    probe: str, place: str, expected: str, mark: str, read: Read
) -> None:
    """Whatever it looks like, and however it fails; within 30 cm of a mounting it is unsafe anywhere.

    UK MOT inspection manual, Appendix A.
    """
    assert read(f"{place} {mark} probe={probe}").grade == expected
    assert read(f"{place} {mark} probe={probe} mount_distance_mm=300").grade == "unsafe"
