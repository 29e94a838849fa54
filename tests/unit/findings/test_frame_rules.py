"""The shipped severity table: total, sourced, in an order that can be read."""

from __future__ import annotations

import re
from itertools import product
from typing import Any

import pytest

from voicelog.config.data import grammar_dir
from voicelog.config.grammar import load_grammar
from voicelog.config.places import map_names
from voicelog.domain.entry import Entry, Kind
from voicelog.domain.grade import Rule, RuleSet
from voicelog.domain.slot import CONDITIONS, PROBES, SURROUNDS
from voicelog.domain.zone import Role, ZoneMap
from voicelog.findings.grading import Grader

WALK = [None, *CONDITIONS, "something-new"]
PROBED = [None, *PROBES]
DISTANCES = [None, 250.0]
LOSSES = [None, 12.0, 40.0]


@pytest.fixture(scope="module", params=map_names(grammar_dir()))
def zone_map(request: pytest.FixtureRequest) -> ZoneMap:
    """Each shipped map in turn: the table has to hold on all of them."""
    return load_grammar(request.param).zone_map


@pytest.fixture(scope="module")
def grader(zone_map: ZoneMap, rules: RuleSet) -> Grader:
    """The shipped table on that map."""
    return Grader(zone_map, rules)


@pytest.fixture(scope="module")
def kinds_of_places(zone_map: ZoneMap, rules: RuleSet) -> list[str]:
    """Every zone a rule names, and one of each other kind: the others are graded like these."""
    named = {zone for rule in rules.rules for zone in rule.when.get("zone", ())}  # type: ignore[attr-defined]
    kinds = {
        (zone.role, zone.main, zone.cabin, zone.id if zone.id in named else ""): zone.id
        for zone in zone_map.zones.values()
    }
    assert {role for role, *_ in kinds} == {zone.role for zone in zone_map.zones.values()}
    return sorted(kinds.values())


def entry_with(**slots: Any) -> Entry:
    """A finding with the slots that are not None."""
    known = {name: value for name, value in slots.items() if value is not None}
    return Entry("e1.1", "u1", "2026-01-05T08:00:00Z", Kind.FINDING, known)


@pytest.mark.parametrize("condition", WALK)
def test_the_table_is_total(condition: str | None, zone_map: ZoneMap, grader: Grader) -> None:
    """Every condition at every place, probed in every way, gets a grade from a named rule."""
    count = 0
    for zone, probe, surround in product([None, *zone_map.zones], PROBED, [None, *SURROUNDS]):
        graded = grader.grade(
            entry_with(zone=zone, condition=condition, probe=probe, surround=surround)
        )
        assert graded.grade in ("cosmetic", "treat", "repair", "unsafe")
        assert graded.rules
        count += 1
    assert count == (len(zone_map.zones) + 1) * 7 * 3


@pytest.mark.parametrize("condition", WALK)
def test_no_worse_probe_gives_a_better_grade(
    condition: str | None, kinds_of_places: list[str], grader: Grader
) -> None:
    """From firm through unprobed to a probe that went through, with every distance and loss."""
    order = ["firm", None, *PROBES[1:]]
    for zone, distance, loss in product(kinds_of_places, DISTANCES, LOSSES):
        slots = {"zone": zone, "mount_distance_mm": distance, "loss_percent": loss}
        ranks = [
            grader.grade(entry_with(condition=condition, probe=probe, **slots)).computed.rank
            for probe in order
        ]
        assert ranks == sorted(ranks), (zone, distance, loss)


@pytest.mark.parametrize("condition", WALK)
def test_nearer_is_never_better(
    condition: str | None, kinds_of_places: list[str], grader: Grader
) -> None:
    """A hole does not get better by being closer to a mounting, nor by nobody asking."""
    for zone, probe, loss in product(kinds_of_places, PROBED, (None, 40.0)):
        ranks = [
            grader.grade(
                entry_with(
                    zone=zone,
                    condition=condition,
                    probe=probe,
                    loss_percent=loss,
                    mount_distance_mm=distance,
                )
            ).computed.rank
            for distance in (None, 900.0, 300.1, 300.0, 20.0, 0.0)
        ]
        assert ranks == sorted(ranks), (zone, probe, loss)


@pytest.mark.parametrize("condition", WALK)
def test_more_loss_is_never_better(
    condition: str | None, kinds_of_places: list[str], grader: Grader
) -> None:
    """From over nominal to nothing left."""
    for zone, distance in product(kinds_of_places, DISTANCES):
        ranks = [
            grader.grade(
                entry_with(
                    zone=zone,
                    condition=condition,
                    loss_percent=loss,
                    mount_distance_mm=distance,
                )
            ).computed.rank
            for loss in (-5, 0, 5, 9.9, 10, 14.9, 15, 24.9, 25, 33.3, 60, 100)
        ]
        assert ranks == sorted(ranks), (zone, distance)


def test_every_rule_says_where_it_comes_from(rules: RuleSet) -> None:
    """A public document and its place, the shop's own limit, or that there is no source."""
    documents = re.compile(
        r"49 CFR 393\.201\([ab]\)|UK MOT inspection manual, (Appendix A|1\.1\.11|6\.1\.1)"
        r"|New Zealand VIRM, in-service, 3-1|NVIC 7-68|Virginia 19VAC30-70-640"
        r"|common practice, no source"
    )
    assert all(documents.search(rule.source) or "2-2a" in rule.source for rule in rules.rules)


def test_every_rule_is_a_plain_sentence(rules: RuleSet) -> None:
    """With an end, and an id in lower case that no other rule has."""
    assert len({rule.id for rule in rules.rules}) == len(rules.rules) > 60
    for rule in rules.rules:
        assert rule.text.endswith("."), rule.id
        assert rule.text[0].isupper(), rule.id
        assert re.fullmatch(r"[a-z]+(-[a-z]+)*", rule.id)


def test_every_rule_can_fire(
    rules: RuleSet, zone_map: ZoneMap, kinds_of_places: list[str], grader: Grader
) -> None:
    """No rule stands in the shadow of another, on any map that has what it asks for."""
    words = ["", "light pitting", "kinked", "small dent", "riveted", "fuel", "at the jacking point"]
    extras: list[dict[str, Any]] = [
        {},
        {"method": "scraped"},
        {"loss_percent": -60.0},
        {"loss_percent": -5.0},
        {"loss_percent": 5.0},
        {"loss_percent": 40.0, "layer": "metal", "mount_distance_mm": 100.0},
        {"surround": "none"},
        {"landmark": "by the lift point"},
        {"certainty": "tentative"},
    ]
    fired: set[str] = set()
    for zone, condition, probe in product(kinds_of_places, WALK, (None, "firm", "dull", "through")):
        for slots in extras:
            entry = entry_with(zone=zone, condition=condition, probe=probe, **slots)
            fired.update(grader.grade(entry).rules)
        if condition in ("pitting", "deformation", "old-repair", "leak", "hole"):
            entry = entry_with(zone=zone, condition=condition, probe=probe)
            fired.update(*(grader.grade(entry, text).rules for text in words))
    assert fired == {rule.id for rule in rules.rules if _is_for(rule, zone_map)}


def _is_for(rule: Rule, zone_map: ZoneMap) -> bool:
    """True where the map has a place that fits all that the rule asks of one."""
    return any(
        zone.id in rule.when.get("zone", (zone.id,))  # type: ignore[operator]
        and zone.role in rule.when.get("role", (zone.role,))  # type: ignore[operator]
        and zone.main >= bool(rule.when.get("main_member"))
        and zone.cabin >= bool(rule.when.get("cabin"))
        for zone in zone_map.zones.values()
    )


@pytest.mark.parametrize("condition", CONDITIONS)
def test_no_rule_sends_anybody_to_scrape_a_line_or_tank(
    condition: str, rules: RuleSet, kinds_of_places: list[str], zone_map: ZoneMap, grader: Grader
) -> None:
    """What a rule says of a finding never speaks against its own caution."""
    texts = {rule.id: rule.text for rule in rules.rules}
    for zone in kinds_of_places:
        if zone_map[zone].role is Role.FLUID_LINE or zone == "fuel-tank":
            fired = grader.grade(entry_with(zone=zone, condition=condition)).rules
            told = " ".join(texts[name] for name in fired)
            assert not re.search(r"scrape it|grind|cleaned to metal|opened up", told), (zone, told)
