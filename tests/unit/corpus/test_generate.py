"""Invented inspections: legal cases, exact labels, parts that share no wording."""

from __future__ import annotations

import random
import re
from collections.abc import Iterator
from dataclasses import replace
from typing import Any

import pytest
from generate import WEIGHTS, cases, plan_fields
from scene import PAIRED, SINGLE, Scene, draw_scene, fits
from speaker import PARTS, wordings

KINDS = {"finding", "clear", "not-seen", "photo"}
SLOTS = {
    "kind", "zone", "ordinal", "side", "face", "condition", "probe", "surround", "count", "size_mm",
    "width_mm", "depth_mm", "thickness_mm", "nominal_mm", "loss_percent", "area_percent",
    "mount_distance_mm", "certainty", "spoken_grade",
}  # fmt: skip
"""What tests/corpus/README.md lets an entry name."""

CONDITIONS = {
    "staining", "rust-weep", "surface-rust", "recoated", "oil-film", "chipped-coating",
    "peeling-coating", "blistering", "scale", "delamination", "pack-rust", "pitting", "thinning",
    "soft-spot", "hole", "crack", "deformation", "old-repair", "filler", "leak", "seized-fixing",
    "wasted-fixing", "worn-hole", "missing-part", "blocked-drain", "debris",
}  # fmt: skip
ASKED = 700


@pytest.fixture(scope="module", params=PARTS)
def part(request: pytest.FixtureRequest) -> str:
    """Each part in turn."""
    return str(request.param)


def _phrases(value: Any) -> Iterator[str]:
    """All wordings under a table of a part."""
    if isinstance(value, str):
        yield value
    elif isinstance(value, dict):
        for inner in value.values():
            yield from _phrases(inner)
    else:
        for inner in value:
            yield from _phrases(inner)


def _own(part: str) -> set[str]:
    """The phrases of a part, closed words aside: sides, units and the contract's grade names."""
    tables = ("zones", "slang", "conditions", "clauses", "denied", "counted", "probes", "faces")
    words = wordings(part)
    return {phrase for table in (*tables, "phrases", "grades") for phrase in _phrases(words[table])}


def test_the_same_seed_gives_the_same_cases(part: str) -> None:
    """A run can be repeated, and a longer one starts with the shorter one."""
    assert cases(5, 40, part) == cases(5, 40, part)
    assert cases(5, 40, part)[:10] == cases(5, 10, part)


def test_another_seed_gives_other_cases(part: str) -> None:
    """Seeds differ in what is said."""
    said = [[case["say"] for case in cases(seed, 40, part)] for seed in (5, 6)]
    assert said[0] != said[1]


def test_cases_have_the_form_of_the_corpus(part: str) -> None:
    """Ids, topics, kinds, slots and conditions are those that the README allows."""
    made = cases(2, ASKED, part)
    assert made[0]["id"] == f"g-{part}-0001"
    assert len({case["id"] for case in made}) == ASKED
    for case in made:
        assert set(case) <= {"id", "topic", "say", "want", "at", "settings", "tags"}
        assert all(said.strip() == said and said for said in case["say"])
        assert len(case.get("at", case["say"])) == len(case["say"])
        for entry in case["want"]:
            assert set(entry) <= SLOTS
            assert entry["kind"] in KINDS
            assert entry["zone"] in PAIRED + SINGLE
            assert entry.get("condition", "hole") in CONDITIONS
            assert ("condition" in entry) == (entry["kind"] == "finding")


def test_every_topic_zone_and_condition_comes_up(part: str) -> None:
    """Seven hundred cases leave no topic, zone or condition out."""
    made = cases(2, ASKED, part)
    entries = [entry for case in made for entry in case["want"]]
    assert {case["topic"] for case in made} == set(WEIGHTS)
    assert {entry["zone"] for entry in entries} == set(PAIRED + SINGLE)
    assert {entry["condition"] for entry in entries if "condition" in entry} == CONDITIONS


def test_every_wanted_side_was_said(part: str) -> None:
    """An entry has a side only where the words, or the setting for the cab, give it."""
    words = {
        "left": r"\b(left|near ?side|driver|passenger)\b",
        "right": r"\b(right|off ?side|driver|passenger)\b",
        "both": r"\b(left and right|both)\b",
    }
    for case in cases(2, ASKED, part):
        said = " ".join(case["say"])
        for entry in case["want"]:
            assert re.search(words.get(entry.get("side", ""), ""), said), case


def test_a_loss_is_that_of_the_two_thicknesses(part: str) -> None:
    """Two thicknesses give their loss: (nominal - measured) / nominal."""
    entries = [entry for case in cases(2, ASKED, part) for entry in case["want"]]
    both = [entry for entry in entries if "nominal_mm" in entry]
    assert both
    for entry in both:
        loss = 100 * (1 - entry["thickness_mm"] / entry["nominal_mm"])
        assert entry["loss_percent"] == pytest.approx(loss, abs=0.06)


def test_a_correction_wants_its_last_state_only() -> None:
    """ "left, no, right" wants the right side, and the other way round."""
    made = [case for case in cases(7, 900, "tuning") if case["topic"] == "correction"]
    for first, last in (("left", "right"), ("right", "left")):
        turned = [case for case in made if f"{first}, no, {last}" in case["say"][0]]
        assert {case["want"][0]["side"] for case in turned} == {last}


def test_a_coin_is_its_diameter() -> None:
    """A nickel is 21.21 mm, as tests/corpus/README.md gives it."""
    made = [case for case in cases(7, 900, "tuning") if "the size of a nickel" in case["say"][0]]
    assert {case["want"][0]["size_mm"] for case in made} == {21.21}


def test_a_probe_that_went_through_makes_a_hole(part: str) -> None:
    """Whatever was named before: its entry is a hole, and there is no other at that place."""
    made = [case for case in cases(2, ASKED, part) if "through" in str(case["want"])]
    assert made
    for case in made:
        assert [(entry["condition"], entry["probe"]) for entry in case["want"]] == [
            ("hole", "through")
        ]


def test_the_parts_share_no_wording() -> None:
    """Tuning on one part cannot learn the other's phrases or sentence plans."""
    assert not _own("tuning") & _own("untouched")
    plans = [{tuple(plan["say"]) for plan in wordings(part)["plans"]} for part in PARTS]
    shared = plans[0] & plans[1]
    assert all(re.fullmatch(r"\{\w+\}", line) for lines in shared for line in lines), shared


def test_own_wordings_are_not_the_published_names(part: str) -> None:
    """A part's zone names are its own; the published ones come in by the speaker's habit."""
    published = {zone.replace("-", " ") for zone in PAIRED + SINGLE}
    assert not set(_phrases(wordings(part)["zones"])) & published


def test_every_plan_can_be_told(part: str) -> None:
    """No plan contradicts itself: some scene fits each of them."""
    rng = random.Random(f"scenes of {part}")
    scenes = [draw_scene(rng) for _ in range(4000)]
    for plan in wordings(part)["plans"]:
        assert any(fits(scene, plan_fields(plan)) for scene in scenes), plan


def test_a_fault_and_its_denial_are_not_said_together() -> None:
    """A scene with a crack does not fit a plan that says "no cracks"."""
    scene = replace(draw_scene(random.Random(1)), fault="crack", denied="crack")
    fields = frozenset({"place", "fault", "denied"})
    assert not fits(scene, fields)
    assert fits(replace(scene, denied="hole"), fields)


def test_two_places_are_two_zones() -> None:
    """A plan with a second place never gets a scene that names one zone twice."""
    scene = next(s for s in _scenes() if fits(s, frozenset({"place", "place2"})))
    assert not fits(replace(scene, zone2=scene.zone), frozenset({"place", "place2"}))


def _scenes() -> Iterator[Scene]:
    rng = random.Random("two places")
    while True:
        yield draw_scene(rng)


def test_an_unknown_part_is_refused() -> None:
    """The parts are two; another name is an error that names them."""
    with pytest.raises(ValueError, match="tuning, untouched"):
        cases(1, 1, "training")
