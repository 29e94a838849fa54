"""Every base rule of the shipped table by name: what fires it, its grade, whether it is proven."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from voicelog.domain.grade import RuleSet
from voicelog.findings.grading import Graded

Read = Callable[..., Graded]

BY_RULE: dict[str, tuple[str, str, str, bool]] = {
    # rule: finding, its words, grade, unproven
    "fresh-coating": ("tow-hitch recoated", "", "cosmetic", True),
    "crush-surface-rust": ("crush-section surface-rust", "", "treat", True),
    "line-surface-rust": ("brake-line surface-rust", "", "treat", False),
    "marks-on-structure": ("mid-rail staining", "", "cosmetic", True),
    "marks-elsewhere": ("sill staining", "", "cosmetic", False),
    "rust-weep": ("kick-up rust-weep", "", "treat", True),
    "metal-covered": ("mid-rail debris", "", "treat", True),
    "blocked-drain": ("sill blocked-drain", "", "treat", True),
    "line-lifted-coating": ("brake-line blistering method=scraped", "", "treat", True),
    "tank-lifted-coating": ("fuel-tank peeling-coating", "", "treat", True),
    "lifted-coating-opened": ("mid-rail blistering method=scraped", "", "treat", False),
    "lifted-coating": ("mid-rail peeling-coating", "", "treat", True),
    "line-eaten": ("fuel-line pitting", "", "repair", False),
    "sheet-scale-firm": ("sill scale probe=firm", "", "treat", False),
    "light-pitting": ("mid-rail pitting", "light pitting", "treat", True),
    "scale-measured": ("mid-rail scale loss_percent=5 layer=metal", "", "repair", False),
    "tank-eaten": ("fuel-tank pitting", "", "repair", True),
    "scale": ("mid-rail scale loss_percent=5", "", "repair", True),
    "layered-rust": ("mid-rail delamination", "", "repair", True),
    "hole": ("outrigger hole", "", "repair", False),
    "soft-spot": ("outrigger soft-spot", "", "repair", False),
    "thinning-beyond-belief": ("mid-rail thinning loss_percent=-50.1", "", "treat", True),
    "thinning-over-nominal": ("mid-rail thinning loss_percent=-50", "", "cosmetic", True),
    "thinning-bare": ("mid-rail thinning loss_percent=5 layer=metal", "", "cosmetic", False),
    "thinning-measured": ("mid-rail thinning loss_percent=5", "", "cosmetic", True),
    "thinning-unmeasured": ("mid-rail thinning", "", "treat", True),
    "crack-in-rail": ("kick-up crack", "", "unsafe", False),
    "crack-in-frame-horn": ("frame-horn crack", "", "unsafe", False),
    "crack-at-mounting": ("shock-mount crack", "", "unsafe", False),
    "crack-in-crush-section": ("crush-section crack", "", "unsafe", False),
    "crack-in-line": ("brake-line crack", "", "unsafe", False),
    "crack-in-tank": ("fuel-tank crack", "", "unsafe", False),
    "crack-elsewhere": ("outrigger crack", "", "repair", False),
    "kinked-rail": ("mid-rail deformation", "dented and kinked", "unsafe", False),
    "local-dent": ("mid-rail deformation", "a dent", "treat", False),
    "kinked-frame-horn": ("frame-horn deformation", "dented and kinked", "unsafe", False),
    "deformed-rail": ("mid-rail deformation", "", "unsafe", False),
    "deformed-frame-horn": ("frame-horn deformation", "", "unsafe", False),
    "bent-structure": ("tow-hitch deformation", "", "repair", False),
    "bent-panel": ("sill deformation", "", "treat", False),
    "leaking-line": ("brake-line leak", "", "unsafe", False),
    "leaking-tank": ("fuel-tank leak", "", "unsafe", False),
    "fuel-or-brake-fluid": ("outrigger leak", "fuel leak", "unsafe", False),
    "other-leak": ("outrigger leak", "oil leak", "treat", False),
    "failed-repair": ("mid-rail old-repair", "riveted plate", "repair", False),
    "line-repaired": ("brake-line old-repair", "", "treat", True),
    "tank-patched": ("fuel-tank filler", "", "repair", True),
    "old-repair": ("mid-rail old-repair", "welded plate", "treat", True),
    "filler-at-mounting": ("shock-mount filler", "", "unsafe", True),
    "filler-on-structure": ("mid-rail filler", "", "repair", True),
    "filler-elsewhere": ("sill filler", "", "treat", True),
    "missing-at-mounting": ("shock-mount missing-part", "", "unsafe", False),
    "missing-elsewhere": ("cab-mount missing-part", "", "repair", False),
    "fixing-at-mounting": ("shock-mount worn-hole", "", "repair", False),
    "fixing-elsewhere": ("cab-mount worn-hole", "", "treat", False),
    "anything-else": ("mid-rail something-new", "", "treat", True),
}


@pytest.mark.parametrize("rule", BY_RULE)
def test_each_base_rule(rule: str, read: Read) -> None:
    """The finding beside it is graded by this rule, as the design has it."""
    finding, text, grade, unproven = BY_RULE[rule]
    graded = read(finding, text=text)
    assert (graded.rules[0], graded.computed, graded.unproven) == (rule, grade, unproven)


ALSO = {
    "line-lifted-coating": ("fuel-line peeling-coating",),
    "tank-lifted-coating": ("fuel-tank blistering",),
    "lifted-coating-opened": ("sill peeling-coating method=probed",),
    "lifted-coating": ("mid-rail blistering",),
    "tank-eaten": ("fuel-tank scale",),
    "local-dent": ("sill deformation", "spare-carrier deformation", "cab-mount deformation"),
    "line-repaired": ("fuel-line filler",),
    "tank-patched": ("fuel-tank old-repair",),
}
"""More findings of a rule, where another would give the same grade for another reason."""


@pytest.mark.parametrize("rule", ALSO)
def test_the_reason_told_is_the_one_that_fits(rule: str, read: Read) -> None:
    """Who reads why is not told of a thing that nobody found."""
    text = BY_RULE[rule][1]
    assert {read(finding, text=text).rules[0] for finding in ALSO[rule]} == {rule}


def test_no_base_rule_is_left_out(rules: RuleSet) -> None:
    """A rule added to the table has to be added here."""
    assert set(BY_RULE) == {rule.id for rule in rules.rules if rule.grade is not None}


@pytest.mark.parametrize(
    ("finding", "rule", "expected"),
    [
        ("fuel-tank surface-rust probe=through", "tank-pierced", "unsafe"),
        ("fuel-tank surface-rust probe=soft", "probe-failed", "repair"),
        ("fuel-tank hole", "hole-in-tank", "unsafe"),
        ("mid-rail surface-rust surround=none", "no-solid-metal", "repair"),
        ("mid-rail thinning loss_percent=10", "wall-loss-watch", "treat"),
        ("mid-rail thinning loss_percent=25", "wall-loss", "repair"),
        ("mid-rail blistering certainty=tentative", "tentative", "treat"),
    ],
)
def test_rules_that_keep_a_grade_up(finding: str, rule: str, expected: str, read: Read) -> None:
    """The floor that decided is named, and gives exactly this grade."""
    graded = read(finding)
    assert rule in graded.rules[1:]
    assert graded.computed == expected


@pytest.mark.parametrize("text", ["hole at the jacking point", "soft right by the lift pad"])
def test_a_lift_point_is_heard_without_a_landmark(text: str, read: Read) -> None:
    """Whoever stands under it is told, whether the words became a landmark or not."""
    graded = read("sill hole", text=text)
    assert "lift-point-rot-said" in graded.rules
    assert any("come out from under" in caution for caution in graded.cautions)
    assert not read("sill hole", text="hole, not at the jacking point").cautions


@pytest.mark.parametrize(
    "rule",
    ["fresh-coating", "marks-on-structure", "crush-surface-rust", "light-pitting", "layered-rust"],
)
def test_firm_metal_proves_what_only_a_probe_was_wanted_for(rule: str, read: Read) -> None:
    """What is unproven for want of a probe is proven by a firm one."""
    finding, text, grade, _ = BY_RULE[rule]
    graded = read(f"{finding} probe=firm", text=text)
    assert (graded.rules[0], graded.computed, graded.unproven) == (rule, grade, False)


@pytest.mark.parametrize("condition", ["scale", "pitting"])
def test_bare_metal_that_was_measured_is_proven(condition: str, read: Read) -> None:
    """Scale and pits alike still need repair."""
    graded = read(f"mid-rail {condition} loss_percent=5 layer=metal")
    assert (graded.rules[0], graded.computed, graded.unproven) == (
        "scale-measured", "repair", False
    )  # fmt: skip


@pytest.mark.parametrize(
    "finding", ["thinning loss_percent=-5", "thinning loss_percent=5", "thinning"]
)
def test_a_firm_probe_does_not_prove_how_thick_metal_is(finding: str, read: Read) -> None:
    """Only bare metal that was measured does."""
    assert read(f"mid-rail {finding} probe=firm").unproven
