"""Every piece of work by name: which findings it is for, and what has to be heeded at them."""

from __future__ import annotations

import re
from collections.abc import Callable
from typing import Any

import pytest

from voicelog.domain.entry import Entry, Finding, Inspection
from voicelog.domain.grade import Grade, RuleSet, WorkRule
from voicelog.domain.slot import CONDITIONS
from voicelog.domain.zone import ZoneMap
from voicelog.findings.advising import Cases, Table

WorkOf = Callable[[str], WorkRule]

BY_RULE = {
    "line-fixing": (
        "brake-line missing-part", "fuel-line wasted-fixing", "fuel-line seized-fixing",
        "brake-line worn-hole",
    ),
    "line-failed": ("brake-line leak", "fuel-line hole", "brake-line surface-rust probe=soft"),
    "line-eaten": ("brake-line scale", "fuel-line pitting", "brake-line deformation"),
    "line-repaired": ("brake-line old-repair", "fuel-line filler"),
    "line-surface": ("brake-line surface-rust", "fuel-line blistering"),
    "tank-failed": ("fuel-tank leak", "fuel-tank crack", "fuel-tank staining probe=through"),
    "tank-eaten": ("fuel-tank scale", "fuel-tank soft-spot", "fuel-tank old-repair"),
    "tank-surface": ("fuel-tank surface-rust", "fuel-tank deformation"),
    "crack-in-structure": ("mid-rail crack", "shock-mount crack", "seat-belt-anchor crack"),
    "crack-elsewhere": ("sill crack", "outrigger crack"),
    "bent-frame": ("mid-rail deformation", "frame-horn deformation"),
    "bent-part": ("outrigger deformation", "tow-hitch deformation"),
    "dent": ("sill deformation",),
    "missing-part": ("shock-mount missing-part", "sill missing-part", "tow-hitch missing-part"),
    "wasted-fixing": ("cab-mount wasted-fixing", "tow-hitch wasted-fixing"),
    "seized-fixing": ("shock-mount seized-fixing", "seat-belt-anchor seized-fixing"),
    "worn-hole": ("cab-mount worn-hole", "tow-hitch worn-hole"),
    "leak-of-fuel-or-brake-fluid": ("outrigger leak spoken_grade=unsafe",),
    "other-leak": ("outrigger leak",),
    "belt-anchor-failing": (
        "seat-belt-anchor hole", "seat-belt-anchor scale", "seat-belt-anchor filler",
    ),
    "belt-anchor-surface": (
        "seat-belt-anchor surface-rust", "seat-belt-anchor chipped-coating",
        "seat-belt-anchor blistering", "seat-belt-anchor peeling-coating",
    ),
    "hitch-failing": ("tow-hitch hole", "tow-hitch scale", "tow-hitch delamination"),
    "filler": ("mid-rail filler", "sill filler", "shock-mount filler"),
    "failed-repair": (
        "mid-rail old-repair spoken_grade=repair", "shock-mount old-repair probe=soft",
    ),
    "old-repair": ("mid-rail old-repair", "seat-belt-anchor old-repair"),
    "thinning-to-repair": (
        "mid-rail thinning loss_percent=30", "shock-mount thinning loss_percent=20",
    ),
    "rot-in-floor": ("floor-pan hole", "bulkhead soft-spot", "floor-pan staining probe=through"),
    "rot-in-crush-section": (
        "crush-section hole", "crush-section surface-rust probe=moves",
        "crush-section thinning probe=through",
    ),
    "rot-in-routine-member": ("outrigger hole surround=none", "rear-cross-member hole surround=none"),
    "rot-without-solid-metal": (
        "mid-rail hole surround=none", "shock-mount hole surround=none",
        "cab-mount soft-spot surround=none",
    ),
    "rot-with-firm-metal": (
        "mid-rail hole surround=firm", "shock-mount hole surround=firm",
        "cab-mount hole surround=firm", "outrigger hole surround=firm",
    ),
    "rot-in-structure": (
        "mid-rail hole", "shock-mount soft-spot", "cab-mount hole", "mid-rail thinning probe=soft",
    ),
    "rot-elsewhere": (
        "sill hole", "spare-carrier hole", "sill hole surround=none", "sill hole surround=firm",
    ),
    "pack-rust": ("mid-rail pack-rust", "sill pack-rust"),
    "layered-rust": ("mid-rail delamination", "shock-mount delamination"),
    "scale-to-treat": (
        "sill scale probe=firm", "sill pitting probe=firm", "spare-carrier scale probe=firm",
    ),
    "scale-to-measure": (
        "mid-rail scale", "mid-rail pitting", "shock-mount pitting", "bulkhead scale",
    ),
    "thinning-to-watch": ("mid-rail thinning", "mid-rail thinning loss_percent=12"),
    "called-worse": (
        *(f"mid-rail {mark} spoken_grade={grade}" for grade in ("repair", "unsafe") for mark in (
            "staining", "rust-weep", "surface-rust", "recoated", "oil-film", "chipped-coating",
            "peeling-coating", "blistering", "blocked-drain", "debris", "thinning",
        )),
        "mid-rail surface-rust surround=none", "outrigger surface-rust surround=none",
        "mid-rail thinning probe=dull",
    ),
    "surface-rust": (
        "mid-rail surface-rust", "sill chipped-coating", "crush-section surface-rust",
        "floor-pan surface-rust", "mid-rail surface-rust surround=firm", "tow-hitch surface-rust",
    ),
    "lifted-coating": ("mid-rail peeling-coating", "sill blistering"),
    "recoated": ("mid-rail recoated", "seat-belt-anchor recoated"),
    "oil-film": ("mid-rail oil-film",),
    "staining": ("mid-rail staining",),
    "water-inside": ("kick-up rust-weep", "sill blocked-drain"),
    "debris": ("mid-rail debris",),
    "anything-else": ("mid-rail something-new", "mid-rail something-new spoken_grade=repair"),
}  # fmt: skip

OPEN = {
    "look-at-line": ("not-seen", ("brake-line", "fuel-line")),
    "look-at-tank": ("not-seen", ("fuel-tank",)),
    "look-at-mounting": ("not-seen", ("shock-mount", "tow-hitch")),
    "look-at-structure": ("not-seen", ("mid-rail", "cab-mount", "crush-section")),
    "look-at-place": ("not-seen", ("sill", "spare-carrier")),
    "look-inside": ("cavity-not-seen", ("kick-up", "control-arm-mount", "crush-section")),
    "probe-it": ("not-probed", ("mid-rail", "shock-mount")),
    "photograph-it": ("no-photo", ("kick-up", "crush-section")),
    "listen-again": ("doubtful", ("mid-rail", "brake-line", "fuel-tank")),
}
"""What is open, and at which places."""

ROT = {
    "rot-in-floor", "rot-in-crush-section", "rot-in-routine-member", "rot-without-solid-metal",
    "rot-with-firm-metal", "rot-in-structure", "rot-elsewhere",
}  # fmt: skip
WELDED = {
    *ROT, "crack-in-structure", "crack-elsewhere", "worn-hole", "belt-anchor-failing",
    "hitch-failing", "filler", "failed-repair", "thinning-to-repair", "pack-rust", "layered-rust",
    "scale-to-measure",
}  # fmt: skip
LINES = {"line-fixing", "line-failed", "line-eaten", "line-repaired", "line-surface"}
TANKS = {"tank-failed", "tank-eaten", "tank-surface"}

HEEDED = {
    # Brake and fuel lines, whatever is done to them; a tank holds vapour even where it is empty.
    "Do not pick or scrape at this line": {*LINES, "look-at-line"},
    "Do not pick or scrape at the tank": {*TANKS, "look-at-tank"},
    "No heat, no sparks and no welding at a tank": {*TANKS, "look-at-tank"},
    # Whatever is more than wiping it clean and coating it.
    "Brake and fuel systems: by qualified hands": {
        *LINES - {"line-surface"}, *TANKS - {"tank-surface"}, "leak-of-fuel-or-brake-fluid",
    },
    # Metal that is cut or welded.
    "Structural welding": WELDED,
    "Before heat or sparks: battery off": WELDED,
    # Heat near the cabin, and whatever is done where a belt is anchored.
    "Airbags and belt tensioners": {
        *ROT - {"rot-in-routine-member", "rot-without-solid-metal"}, "failed-repair",
        "belt-anchor-failing", "belt-anchor-surface",
    },
    # A fixing comes out, or a joint is opened, under something that hangs on it.
    "Hold up the part": {"wasted-fixing", "seized-fixing", "worn-hole", "pack-rust"},
    "No heat beside tanks, lines": {"seized-fixing"},
    "Do not heat or hammer a bent member": {"bent-frame", "bent-part"},
    "Keep exhaust out": {"rot-in-floor"},
}  # fmt: skip
"""How a caution begins, and the work that it has to stand with: the trade's, no source."""


@pytest.fixture
def work_of(
    inspect: Callable[..., Inspection],
    make: Callable[..., Entry],
    zone_map: ZoneMap,
    rules: RuleSet,
) -> WorkOf:
    """The first work rule for a finding in short form: zone, condition, slot=value."""
    cases = Cases(zone_map, rules.limits)
    table = Table([(rule.id, rule) for rule in rules.work], rules.limits)

    def work_rule(finding: str) -> WorkRule:
        zone, condition, *rest = finding.split()
        slots: dict[str, Any] = dict(part.split("=") for part in rest)
        slots |= {name: float(value) for name, value in slots.items() if name == "loss_percent"}
        entry = make(zone=zone, condition=condition, **slots)
        (found,) = inspect(entry).findings
        return next(table.fitting(cases.of_finding(found)))

    return work_rule


@pytest.mark.parametrize("rule", BY_RULE)
def test_each_piece_of_work(rule: str, work_of: WorkOf) -> None:
    """The findings beside it are sent to this work and to no other."""
    assert {finding: work_of(finding).id for finding in BY_RULE[rule]} == dict.fromkeys(
        BY_RULE[rule], rule
    )


@pytest.mark.parametrize("rule", OPEN)
def test_each_look(rule: str, zone_map: ZoneMap, rules: RuleSet) -> None:
    """What is open at a place is closed in a way that fits the place."""
    why, zones = OPEN[rule]
    table = Table([(one.id, one) for one in rules.work], rules.limits)
    for zone in zones:
        case = Cases(zone_map, rules.limits).of_place(zone, None, why)
        assert next(table.fitting(case)).id == rule, zone


@pytest.mark.parametrize("side", ["left", None])
def test_of_an_open_place_nothing_is_known_but_where_it_is(
    side: str | None, zone_map: ZoneMap
) -> None:
    """Nobody has found rot there, and nobody has called it anything."""
    case = Cases(zone_map, {}).of_place("outrigger", side, "not-seen")
    assert (case.grade, case.unproven, case.rot, case.routine) == (None, False, False, False)
    assert [(facts.zone, facts.side) for facts in case.places] == [("outrigger", side)]


def test_no_work_is_left_out(rules: RuleSet) -> None:
    """Work added to the table has to be added here."""
    assert {*BY_RULE, *OPEN} == {rule.id for rule in rules.work}


@pytest.mark.parametrize("caution", HEEDED)
def test_each_caution_stands_with_its_work(caution: str, rules: RuleSet) -> None:
    """With all of that, and with nothing else: a warning that always comes is not heard."""
    warned = {rule.id for rule in rules.work for said in rule.cautions if said.startswith(caution)}
    assert warned == HEEDED[caution]


@pytest.mark.parametrize("grade", ["cosmetic", "treat"])
def test_a_belt_anchorage_is_never_ground(
    grade: str, rules: RuleSet, zone_map: ZoneMap, make: Callable[..., Entry]
) -> None:
    """Whatever is found there, also by a table of a shop's own that only treats scale."""
    table, cases = Table([(one.id, one) for one in rules.work], rules.limits), Cases(zone_map, {})
    for condition in CONDITIONS:
        entry = make(zone="seat-belt-anchor", condition=condition)
        work = next(table.fitting(cases.of_finding(Finding(entry, grade=Grade(grade)))))
        assert not re.search(r"(?<!do not )grind", " ".join((*work.prove, *work.steps))), condition
