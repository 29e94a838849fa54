"""Every shipped map: whole, drawn without a place hidden, told to somebody who knows no frame."""

from __future__ import annotations

import re
from itertools import combinations

import pytest

from voicelog.config.data import grammar_dir
from voicelog.config.grammar import Grammar, load_grammar
from voicelog.config.places import map_names
from voicelog.domain.entry import Add, Entry, Kind
from voicelog.domain.zone import Cavity, Layout, Rails, Role, Zone
from voicelog.findings.ledger import Ledger

MAIN = {
    "ladder-frame": {"front-rail", "mid-rail", "kick-up", "rear-rail"},
    "unibody": {"front-rail", "mid-rail", "kick-up", "rear-rail"},
    "backbone": {"front-fork", "gearbox-bay", "backbone", "rear-fork"},
}
WALK = {
    "ladder-frame": ["frame-horn", "front-rail", "mid-rail", "kick-up", "rear-rail", "tow-hitch"],
    "unibody": [
        *("crush-section", "front-rail", "bulkhead", "tunnel", "seat-cross-member", "kick-up"),
        *("rear-rail", "spare-wheel-well", "rear-panel", "tow-hitch"),
    ],
    "backbone": ["front-cross-member", "gearbox-bay", "backbone", "rear-fork", "tow-hitch"],
}
CABIN = {"floor-pan", "bulkhead", "tunnel", "boot-floor", "spare-wheel-well"}
SIDES = {"left", "right", "nearside", "offside", "driver", "passenger", "driver's", "passenger's"}
EVERYDAY = {"seal", "still", "cell", "pillow", "folk", "fort", "pork", "poster", "torrent", "shelf"}
OURS = re.compile(r"\b(safe|passed|roadworthy|certified|price|cost)", re.IGNORECASE)


@pytest.fixture(scope="module", params=map_names(grammar_dir()))
def grammar(request: pytest.FixtureRequest) -> Grammar:
    """The shipped words and rules with each map in turn."""
    return load_grammar(request.param)


@pytest.fixture
def zones(grammar: Grammar) -> list[Zone]:
    """The map's places."""
    return list(grammar.zone_map.zones.values())


def test_there_are_three(grammar: Grammar) -> None:
    """A new one has to be told here what its main members and its walk are."""
    assert grammar.zone_map.id in MAIN.keys() & WALK.keys()


def test_every_place_says_what_it_carries(zones: list[Zone]) -> None:
    """A phrase, no lecture, and without a word that the program never says."""
    for zone in zones:
        assert len(zone.carries.split()) >= 3 or zone.carries.startswith("the "), zone.id
        assert len(zone.carries) <= 66, zone.id
        assert not zone.carries.endswith("."), zone.id
        assert not OURS.search(zone.carries), zone.id


def test_main_members_are_load_path(grammar: Grammar, zones: list[Zone]) -> None:
    """And they are those that this kind of vehicle hangs on."""
    main = {zone.id for zone in zones if zone.main}
    assert main == MAIN[grammar.zone_map.id]
    assert {grammar.zone_map[name].role for name in main} == {Role.LOAD_PATH}


def test_no_main_member_is_a_routine_replacement(zones: list[Zone]) -> None:
    """Nor is any critical mounting, but for a subframe: all of it is one, and it is bolted on."""
    assert not [zone.id for zone in zones if zone.routine and zone.main]
    critical = {zone.id for zone in zones if zone.routine and zone.role is Role.CRITICAL}
    assert critical <= {"front-subframe", "rear-subframe"}


def test_what_closes_the_cabin_says_so(zones: list[Zone]) -> None:
    """Floor, bulkhead, and where there are any, tunnel and boot."""
    assert {zone.id for zone in zones if zone.cabin} == CABIN & {zone.id for zone in zones}


def test_critical_mountings_are_there_on_both_sides(grammar: Grammar) -> None:
    """Steering, suspension, belts and hitch on every kind of vehicle."""
    critical = {z.id for z in grammar.zone_map.zones.values() if z.role is Role.CRITICAL}
    assert critical >= {"steering-box-mount", "control-arm-mount", "shock-mount", "tow-hitch"}
    assert critical >= {"seat-belt-anchor", "radius-arm-mount", "rear-spring-hanger"}


def test_evidence_follows_role_and_cavity(zones: list[Zone]) -> None:
    """A probe where metal carries load or a mounting, a photo where a cavity hides metal."""
    for zone in zones:
        if zone.role in (Role.LOAD_PATH, Role.CRITICAL):
            assert "probe" in zone.evidence, zone.id
        assert ("photo" in zone.evidence) is (zone.cavity is Cavity.ALWAYS), zone.id


def test_boxes_that_are_closed_on_every_such_vehicle_hide_a_cavity(grammar: Grammar) -> None:
    """How the rails are made is a question of ladder frames only."""
    zones = grammar.zone_map.zones.values()
    boxed = {zone.id for zone in zones if zone.cavity is Cavity.IF_BOXED}
    assert bool(boxed) is (grammar.zone_map.id == "ladder-frame")
    if grammar.zone_map.id == "unibody":
        hidden = {zone.id for zone in zones if zone.cavity is Cavity.ALWAYS}
        assert hidden >= {"sill", "front-rail", "rear-rail", "kick-up", "front-subframe"}


def test_every_place_has_names_and_mishearings(grammar: Grammar, zones: list[Zone]) -> None:
    """Six spoken names at least, and some of what recognisers make of them."""
    for zone in zones:
        misheard = [p for p in grammar.vocabulary.phrases if p.value == zone.id and p.misheard]
        assert len(zone.say) >= 6, zone.id
        assert len(misheard) >= 5, zone.id


def test_names_carry_no_side_and_mishearings_are_no_everyday_word(grammar: Grammar) -> None:
    """A side would be swallowed by a name, and shop talk would become findings."""
    places = [p for p in grammar.vocabulary.phrases if p.slot in ("zone", "family")]
    assert [p.text for p in places if SIDES & set(p.text.split())] == []
    assert EVERYDAY.isdisjoint(p.text for p in places if p.misheard)


def boxes(zone: Zone) -> list[tuple[float, float, float, float]]:
    """The zone's boxes on the drawing, both of a pair."""
    assert zone.plan is not None
    x, y, width, height = zone.plan
    mirrored = [(100 - x - width, y, width, height)] if zone.layout is Layout.PAIR else []
    return [zone.plan, *mirrored]


def test_no_two_boxes_of_a_drawing_overlap(zones: list[Zone]) -> None:
    """Every place can be seen, the right one of a pair included."""
    drawn = [(zone.id, box) for zone in zones for box in boxes(zone)]
    clashes = [
        (a, b)
        for (a, (ax, ay, aw, ah)), (b, (bx, by, bw, bh)) in combinations(drawn, 2)
        if ax < bx + bw and bx < ax + aw and ay < by + bh and by < ay + ah
    ]
    assert clashes == []


def test_a_drawing_goes_from_front_to_rear_pairs_on_the_left(
    grammar: Grammar, zones: list[Zone]
) -> None:
    """Places stand where somebody under the vehicle would look for them."""
    top = {zone.id: boxes(zone)[0] for zone in zones}
    order = [top[name][1] for name in WALK[grammar.zone_map.id]]
    assert order == sorted(order)
    assert all(top[z.id][0] + top[z.id][2] <= 50 for z in zones if z.layout is Layout.PAIR)
    for zone in zones:
        if zone.layout is not Layout.PAIR and zone.role in (Role.LOAD_PATH, Role.CRITICAL):
            x, _, width, _ = top[zone.id]
            assert x < 50 < x + width or zone.id == "steering-box-mount"


def test_a_thorough_look_leaves_nothing_open(grammar: Grammar, zones: list[Zone]) -> None:
    """Every place probed on both sides and every cavity seen: sound, and no danger found."""
    ledger = Ledger(grammar.zone_map, grammar.rules, Rails.OPEN)
    entries = [
        Entry(f"e{n}.{m}", f"u{n}", "2026-01-05T08:00:00Z", Kind.CLEAR, {**slots, **face})
        for n, zone in enumerate(zones, 1)
        for m, face in enumerate([{}, {"face": "interior"}] if _hides(zone) else [{}], 1)
        for slots in [{"zone": zone.id, "probe": "firm", "method": "probed", "side": "both"}]
    ]
    ledger.apply(Add(entry) for entry in entries)
    inspection = ledger.inspection()
    assert inspection.gaps == ()
    assert (inspection.verdict.drive, inspection.verdict.tier) == (
        "no-danger-found-where-examined",
        "sound",
    )


def _hides(zone: Zone) -> bool:
    return zone.hides_cavity(Rails.OPEN)


def test_one_mounting_not_looked_at_keeps_the_verdict_open(grammar: Grammar) -> None:
    """Coverage counts the critical mountings of each map, a pair as two."""
    ledger = Ledger(grammar.zone_map, grammar.rules, Rails.OPEN)
    zones = grammar.zone_map.zones.values()
    count = sum(len(zone.sides()) for zone in zones if zone.role is Role.CRITICAL)
    verdict = ledger.inspection().verdict
    assert verdict.drive == "not-enough-seen"
    assert f"{count} of {count} critical mountings not looked at" in " ".join(verdict.because)
