"""Rot where the vehicle is lifted: repair at the least, with the caution to come out from under it."""

from __future__ import annotations

import pytest

from voicelog.config.grammar import load_grammar
from voicelog.domain.entry import Entry, Kind
from voicelog.findings.grading import Graded, Grader

ROT = ("hole", "soft-spot", "delamination", "pack-rust", "crack")
FAILS = ("moves", "soft", "through")
CAUTION = "This is a lift point: come out from under the vehicle and lower it."


@pytest.fixture(scope="module")
def grader() -> Grader:
    """The shipped table on the map that has jacking points of its own."""
    grammar = load_grammar("unibody")
    return Grader(grammar.zone_map, grammar.rules)


def _graded(grader: Grader, text: str = "", **slots: str) -> Graded:
    entry = Entry("e1.1", "u1", "2026-03-14T09:00:00Z", Kind.FINDING, slots, text=text)
    return grader.grade(entry, text)


def _warns(graded: Graded) -> bool:
    return CAUTION in graded.cautions


@pytest.mark.parametrize("condition", ROT)
def test_rot_in_a_jacking_point_warns(grader: Grader, condition: str) -> None:
    """Every kind of rot; what would be unsafe for it alone is said elsewhere, so the grade is repair."""
    found = _graded(grader, condition=condition, zone="jacking-point")
    assert (found.grade, _warns(found), found.rules[-1]) == ("repair", True, "jacking-point-rot")


@pytest.mark.parametrize("probe", FAILS)
def test_a_jacking_point_that_fails_warns(grader: Grader, probe: str) -> None:
    """Whatever it looked like before; the same metal elsewhere is told nothing of lifting."""
    found = _graded(grader, condition="surface-rust", zone="jacking-point", probe=probe)
    assert (found.grade, _warns(found), found.rules[-1]) == ("repair", True, "jacking-point-failed")
    assert not _warns(_graded(grader, condition="surface-rust", zone="wheel-arch", probe=probe))


@pytest.mark.parametrize("condition", ROT)
@pytest.mark.parametrize("place", ["lift point", "lift pad", "jack pad"])
def test_rot_said_to_be_at_a_lift_point_warns(grader: Grader, condition: str, place: str) -> None:
    """Wherever that is; the words count, since a frame is lifted in many places."""
    found = _graded(grader, f"it is at the {place}", condition=condition, zone="wheel-arch")
    assert (found.grade, _warns(found), found.rules[-1]) == ("repair", True, "lift-point-rot-said")


@pytest.mark.parametrize("probe", FAILS)
def test_what_fails_at_a_lift_point_warns(grader: Grader, probe: str) -> None:
    """Under the probe, with those words."""
    said = "surface rust at the jack pad"
    found = _graded(grader, said, condition="surface-rust", zone="wheel-arch", probe=probe)
    assert (found.grade, _warns(found)) == ("repair", True)
    assert found.rules[-1] == "lift-point-failed-said"


@pytest.mark.parametrize("probe", ["firm", "dull"])
@pytest.mark.parametrize("zone", ["jacking-point", "wheel-arch"])
def test_sound_metal_there_warns_of_nothing(grader: Grader, zone: str, probe: str) -> None:
    """Rust on the surface, and metal that holds: a warning that always comes is not heard."""
    said = "surface rust at the lift pad"
    rust = {"condition": "surface-rust", "zone": zone, "probe": probe}
    for found in (
        _graded(grader, said, **rust),
        _graded(grader, landmark="by the lift pad", **rust),
    ):
        assert not _warns(found)
        assert found.grade in ("cosmetic", "treat")
