"""The files that ship: they load, hold the contract's names, and make sense as a whole."""

from __future__ import annotations

import time
from itertools import combinations

import pytest

from voicelog.config.data import grammar_dir
from voicelog.config.grammar import Grammar, load_grammar
from voicelog.config.places import map_names
from voicelog.domain.slot import CONDITIONS, SLOTS
from voicelog.domain.zone import Cavity, Layout, Role, Zone

ROLES = {
    Role.LOAD_PATH: "front-cross-member gearbox-cross-member rear-cross-member front-rail mid-rail "
    "rear-rail kick-up frame-horn outrigger",
    Role.CRITICAL: "control-arm-mount radius-arm-mount steering-box-mount shock-mount "
    "front-spring-hanger rear-spring-hanger axle-bracket seat-belt-anchor tow-hitch",
    Role.SUPPORT: "engine-mount cab-mount bed-mount tank-strap",
    Role.CRUSH: "crush-section",
    Role.PANEL: "sill floor-pan wheel-arch bulkhead",
    Role.FLUID_LINE: "fuel-line brake-line",
    Role.ATTACHED: "spare-carrier fuel-tank",
}

TRADE_NAMES = {
    "rear-cross-member": ["back bar", "tail cross member"],
    "frame-horn": ["dumb iron", "rail tip"],
    "front-rail+mid-rail+rear-rail": ["chassis leg", "side member", "frame rail", "rail"],
    "front-cross-member+gearbox-cross-member+rear-cross-member": ["cross member"],
    "front-spring-hanger+rear-spring-hanger": ["shackle bracket", "spring hanger", "hanger"],
    "kick-up": ["hump", "upsweep", "over axle arch"],
    "axle-bracket": ["spring perch"],
    "gearbox-cross-member": ["tranny cross member", "transfer box cross member"],
    "cab-mount": ["body biscuit", "body puck", "cab foot", "body mount"],
    "bed-mount": ["tub mount", "box mount", "tray mount"],
    "control-arm-mount": ["a arm pocket", "wishbone ears", "wishbone pocket"],
    "shock-mount": ["damper turret", "shock tower"],
    "bulkhead": ["firewall"],
    "sill": ["rocker"],
    "floor-pan": ["toe board", "footwell"],
    "wheel-arch": ["inner wing", "wheel well"],
    "tow-hitch": ["tow bar", "receiver"],
    "radius-arm-mount": ["panhard anchor", "torsion bar anchor"],
}

EVERYDAY = {
    *("seal", "still", "cell", "sell", "break", "real", "reel", "role", "trail"),
    *("rocket", "shot", "shop", "mount", "amount"),
}
"""Words of shop talk that recognisers also write for names of places."""

MAPS = map_names(grammar_dir())

SIDES = {"left", "right", "nearside", "offside", "driver", "passenger", "driver's", "passenger's"}


@pytest.fixture(scope="module")
def grammar() -> Grammar:
    """The shipped grammar."""
    return load_grammar()


@pytest.mark.parametrize("name", MAPS)
def test_every_shipped_map_loads(name: str) -> None:
    """With the shipped words and rules, without a fault."""
    assert load_grammar(name).zone_map.id == name


def test_the_zones_are_those_of_the_contract(grammar: Grammar) -> None:
    """Names and roles as the design fixes them."""
    zones = grammar.zone_map.zones.values()
    found = {role: {zone.id for zone in zones if zone.role is role} for role in Role}
    assert found == {role: set(names.split()) for role, names in ROLES.items()}


def test_hidden_cavities_are_those_of_the_contract(grammar: Grammar) -> None:
    """Three places always, the rails and cross members when they are boxed; all others never."""
    zones = grammar.zone_map.zones.values()
    always = {zone.id for zone in zones if zone.cavity is Cavity.ALWAYS}
    boxed = {zone.id for zone in zones if zone.cavity is Cavity.IF_BOXED}
    assert always == {"control-arm-mount", "kick-up", "crush-section"}
    assert boxed == {
        zone.id for zone in zones if zone.id.endswith(("-rail", "-cross-member"))
    }  # fmt: skip


def test_evidence_follows_role_and_cavity(grammar: Grammar) -> None:
    """A probe where metal carries load or a mounting, a photo where a cavity hides metal."""
    for zone in grammar.zone_map.zones.values():
        probed = zone.role in (Role.LOAD_PATH, Role.CRITICAL)
        assert ("probe" in zone.evidence) is probed
        assert ("photo" in zone.evidence) is (zone.cavity is Cavity.ALWAYS)


def test_trade_names_mean_their_zone_or_ask(grammar: Grammar) -> None:
    """The names that the design lists, and where several places share one, all of them."""
    found = {phrase.text: phrase.value for phrase in grammar.vocabulary.phrases}
    for value, names in TRADE_NAMES.items():
        assert {name: found.get(name) for name in names} == dict.fromkeys(names, value)


def test_every_zone_has_several_names_and_typical_mishearings(grammar: Grammar) -> None:
    """Six spoken names at least, and some of what recognisers make of them."""
    for zone in grammar.zone_map.zones.values():
        misheard = [p for p in grammar.vocabulary.phrases if p.value == zone.id and p.misheard]
        assert len(zone.say) >= 6
        assert len(misheard) >= 5


def test_names_of_places_carry_no_side(grammar: Grammar) -> None:
    """Sides are read by themselves; a name that holds one would swallow it."""
    places = [p for p in grammar.vocabulary.phrases if p.slot in ("zone", "family")]
    assert [phrase.text for phrase in places if SIDES & set(phrase.text.split())] == []


def test_mishearings_of_places_are_never_one_everyday_word(grammar: Grammar) -> None:
    """Taking "seal" for sill, or "break" for brake line, would turn shop talk into findings."""
    places = [p for p in grammar.vocabulary.phrases if p.slot in ("zone", "family")]
    misheard = {phrase.text for phrase in places if phrase.misheard}
    assert misheard.isdisjoint(EVERYDAY)


def boxes(zone: Zone) -> list[tuple[float, float, float, float]]:
    """The zone's boxes on the drawing, both of a pair."""
    assert zone.plan is not None
    x, y, width, height = zone.plan
    mirrored = [(100 - x - width, y, width, height)] if zone.layout is Layout.PAIR else []
    return [zone.plan, *mirrored]


def test_no_two_boxes_of_the_drawing_overlap(grammar: Grammar) -> None:
    """Every place can be seen and clicked, the right one of a pair included."""
    drawn = [(zone.id, box) for zone in grammar.zone_map.zones.values() for box in boxes(zone)]
    clashes = [
        (a, b)
        for (a, (ax, ay, aw, ah)), (b, (bx, by, bw, bh)) in combinations(drawn, 2)
        if ax < bx + bw and bx < ax + aw and ay < by + bh and by < ay + ah
    ]
    assert clashes == []


def test_the_drawing_has_front_before_rear_and_pairs_on_the_left(grammar: Grammar) -> None:
    """Boxes stand where the plan's directions put them."""
    top = {zone.id: boxes(zone)[0] for zone in grammar.zone_map.zones.values()}
    walk = ["frame-horn", "front-rail", "mid-rail", "kick-up", "rear-rail"]
    assert [top[name][1] for name in walk] == sorted(top[name][1] for name in walk)
    pairs = [zone for zone in grammar.zone_map.zones.values() if zone.layout is Layout.PAIR]
    assert all(box[0] + box[2] <= 50 for box in (top[zone.id] for zone in pairs))


def test_every_condition_can_be_said(grammar: Grammar) -> None:
    """No condition of the contract is left without words."""
    said = {phrase.value for phrase in grammar.vocabulary.phrases if phrase.slot == "condition"}
    assert said == set(CONDITIONS)


def test_every_word_of_a_closed_list_can_be_said(grammar: Grammar) -> None:
    """Sides, faces, parts, probe results and grades all have words of their own."""
    said = {(phrase.slot, phrase.value) for phrase in grammar.vocabulary.phrases}
    for name in ("side", "face", "part", "probe", "method", "surround", "spoken_grade"):
        assert {(name, choice) for choice in SLOTS[name].choices} <= said


def test_zones_that_the_rules_name_are_on_a_map(grammar: Grammar) -> None:
    """A misspelt zone in a rule would never fit, and so never be noticed."""
    named: set[str] = set()
    for rule in grammar.rules.rules:
        zones = rule.when.get("zone", ())
        assert isinstance(zones, tuple)
        named.update(zones)
    assert named <= {zone for name in MAPS for zone in load_grammar(name).zone_map.zones}


def test_the_whole_grammar_loads_quickly() -> None:
    """A tenth of a second of the processor is our ceiling at rest; thrice that leaves room for a busy machine."""
    best = min(_load_seconds() for _ in range(3))
    assert best < 0.3


def _load_seconds() -> float:
    """Seconds of the processor for one load."""
    start = time.process_time()
    load_grammar()
    return time.process_time() - start
