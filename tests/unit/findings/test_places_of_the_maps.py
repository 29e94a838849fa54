"""What each place of a map is there for: by that it is graded, and by that a gap in it weighs.

The ladder frame's roles, cavities and routine members are the design's, word for word a contract. Those
that the other maps add are ours, after common practice, no source.
"""

from __future__ import annotations

import pytest

from voicelog.config.grammar import load_grammar
from voicelog.domain.zone import Cavity, Layout, Role, Zone

DESIGNED = {
    Role.LOAD_PATH: {
        "front-cross-member", "gearbox-cross-member", "rear-cross-member", "front-rail", "mid-rail",
        "rear-rail", "kick-up", "frame-horn", "outrigger",
    },
    Role.CRITICAL: {
        "control-arm-mount", "radius-arm-mount", "steering-box-mount", "shock-mount",
        "front-spring-hanger", "rear-spring-hanger", "axle-bracket", "seat-belt-anchor", "tow-hitch",
    },
    Role.SUPPORT: {"engine-mount", "cab-mount", "bed-mount", "tank-strap"},
    Role.CRUSH: {"crush-section"},
    Role.PANEL: {"sill", "floor-pan", "wheel-arch", "bulkhead"},
    Role.FLUID_LINE: {"fuel-line", "brake-line"},
    Role.ATTACHED: {"spare-carrier", "fuel-tank"},
}  # fmt: skip
"""Names fixed by the contract: the zones of the ladder frame, with their roles."""

ADDED = {
    "unibody": {
        Role.LOAD_PATH: {
            "upper-rail", "inner-wing", "bulkhead", "a-post", "cant-rail", "sill", "floor-pan", "tunnel",
            "seat-cross-member", "b-post", "c-post",
        },
        Role.CRITICAL: {
            "front-subframe", "rear-subframe", "front-subframe-mount", "rear-subframe-mount",
            "strut-tower",
        },
        Role.SUPPORT: {"jacking-point"},
        Role.PANEL: {"quarter-panel", "parcel-shelf", "spare-wheel-well", "boot-floor", "rear-panel"},
        Role.ATTACHED: {"bumper-beam"},
    },
    "backbone": {
        Role.LOAD_PATH: {"front-fork", "gearbox-bay", "backbone", "side-rail", "rear-fork"},
        Role.CRITICAL: {"strut-tower"},
        Role.SUPPORT: {"differential-mount"},
    },
}  # fmt: skip
"""What the other maps have of their own, or use otherwise: a shell is held together by its sheet."""

SINGLE = {
    "ladder-frame": {
        "front-cross-member", "gearbox-cross-member", "rear-cross-member", "steering-box-mount",
        "tow-hitch", "tank-strap", "bulkhead", "fuel-line", "brake-line", "spare-carrier", "fuel-tank",
    },
    "unibody": {
        "front-subframe", "rear-subframe", "tunnel", "seat-cross-member", "bumper-beam",
        "parcel-shelf", "spare-wheel-well", "rear-panel",
    },
    "backbone": {"gearbox-bay", "backbone", "differential-mount"},
}  # fmt: skip
"""What the vehicle has one of; of all else it has two, and one of them is half of it."""


def _zones(name: str) -> dict[str, Zone]:
    return dict(load_grammar(name).zone_map.zones)


@pytest.fixture(scope="module")
def ladder() -> dict[str, Zone]:
    """The places of the ladder frame."""
    return _zones("ladder-frame")


@pytest.fixture(scope="module", params=ADDED)
def other(request: pytest.FixtureRequest) -> tuple[str, dict[str, Zone]]:
    """Each other map's name and places."""
    return request.param, _zones(request.param)


def test_the_ladder_frames_roles_are_the_contracts(ladder: dict[str, Zone]) -> None:
    """Every place of the design with the role it gives, and no other place."""
    told = {role: {zone.id for zone in ladder.values() if zone.role is role} for role in Role}
    assert told == DESIGNED


def test_other_maps_add_places_and_keep_the_roles_of_the_others(
    other: tuple[str, dict[str, Zone]], ladder: dict[str, Zone]
) -> None:
    """A spring hanger carries the suspension under whatever it is welded to."""
    name, zones = other
    added = {place: role for role, places in ADDED[name].items() for place in places}
    for zone in zones.values():
        assert zone.role is (added.get(zone.id) or ladder[zone.id].role), zone.id
    assert added.keys() <= zones.keys()


def test_what_hides_a_cavity_under_a_ladder_frame(ladder: dict[str, Zone]) -> None:
    """Arm mounts, kick-ups and crush sections on every one, rails and cross members where boxed."""
    boxed = {"front-rail", "mid-rail", "rear-rail"}
    boxed |= {"front-cross-member", "gearbox-cross-member", "rear-cross-member"}
    hidden = {zone.id: zone.cavity for zone in ladder.values() if zone.cavity is not Cavity.NEVER}
    assert hidden == {
        **dict.fromkeys(("control-arm-mount", "kick-up", "crush-section"), Cavity.ALWAYS),
        **dict.fromkeys(boxed, Cavity.IF_BOXED),
    }


def test_cross_members_and_outriggers_are_routine(ladder: dict[str, Zone]) -> None:
    """Nothing else is: under a ladder frame all else needs more than bolts."""
    members = {name for name in ladder if name.endswith("cross-member")}
    assert {zone.id for zone in ladder.values() if zone.routine} == {*members, "outrigger"}


def test_what_is_welded_into_a_shell_or_a_backbone_is_not_routine(
    other: tuple[str, dict[str, Zone]],
) -> None:
    """Subframes, outriggers and what carries the gearbox are bolted on; panels and turrets are not."""
    _, zones = other
    bolted = {"front-subframe", "rear-subframe", "gearbox-cross-member", "outrigger"}
    assert {zone.id for zone in zones.values() if zone.routine} == bolted & zones.keys()


def test_of_what_there_are_two_both_have_to_be_seen(
    other: tuple[str, dict[str, Zone]], ladder: dict[str, Zone]
) -> None:
    """A place counted once would be done after its better side."""
    name, zones = other
    for told, of in (("ladder-frame", ladder), (name, zones)):
        single = {zone.id for zone in of.values() if zone.layout is Layout.ONE}
        assert single == (SINGLE[told] | SINGLE["ladder-frame"]) & of.keys()


def test_what_the_vehicle_is_lifted_by_is_probed(other: tuple[str, dict[str, Zone]]) -> None:
    """Whoever works under it hangs on it; so does the axle on what holds the differential."""
    name, zones = other
    place = {"unibody": "jacking-point", "backbone": "differential-mount"}[name]
    assert "probe" in zones[place].evidence
