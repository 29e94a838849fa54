"""The shipped work rules and pointers: nothing is left without advice, none in another's shadow, and
what they never say.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import replace
from itertools import product
from typing import Any

import pytest

from voicelog.config.data import grammar_dir
from voicelog.config.grammar import Grammar, load_grammar
from voicelog.config.places import map_names
from voicelog.config.pointers import with_pointers
from voicelog.config.when import OPEN
from voicelog.domain.advice import URGENCIES
from voicelog.domain.entry import Entry, Finding, Kind
from voicelog.domain.grade import Grade, RuleSet
from voicelog.domain.slot import CONDITIONS, PROBES, SURROUNDS
from voicelog.domain.zone import Role, ZoneMap
from voicelog.findings.advising import Case, Cases, Table

NEVER = ("safe", "passed", "roadworthy", "certified", "price", "prices", "cost", "costs")
VERDICTS = ("pass", "fail", "fails", "failed", "reject", "major", "minor", "dangerous", "unsafe")
"""Words that would turn a pointer into a verdict."""


def advice_of(rules: RuleSet) -> Table[Any]:
    """The shipped work rules, ready to be tried."""
    return Table([(rule.id, rule) for rule in rules.work], rules.limits)


def one_place_a_kind(zone_map: ZoneMap) -> list[str | None]:
    """A zone of each role, those that rules name, and a place nobody knows."""
    roles = {zone.role: zone.id for zone in zone_map.zones.values()}
    named = ("sill", "floor-pan", "fuel-tank", "seat-belt-anchor", "tow-hitch", "outrigger")
    return [*roles.values(), *named, None]


def finding_cases(zone_map: ZoneMap, cases: Cases) -> Iterator[Case]:
    """Condition × place × probe × grade, and more of what decides."""
    more: list[dict[str, Any]] = [{"loss_percent": 40.0}, *({"surround": s} for s in SURROUNDS)]
    told = [*({"probe": probe} for probe in PROBES), {}, *more]
    for condition, zone, extra in product(CONDITIONS, one_place_a_kind(zone_map), told):
        slots = {"zone": zone, "condition": condition, **extra}
        known = {name: value for name, value in slots.items() if value is not None}
        case = cases.of_finding(Finding(Entry("e1.1", "u1", "", Kind.FINDING, slots=known)))
        yield from (replace(case, grade=grade) for grade in Grade)


def test_every_finding_has_its_work(zone_map: ZoneMap, rules: RuleSet) -> None:
    """Whatever its condition, place, probe and grade; and no rule stands in another's shadow."""
    table, fired = advice_of(rules), set()
    for case in finding_cases(zone_map, Cases(zone_map, rules.limits)):
        rule = next(table.fitting(case), None)
        assert rule is not None, case
        fired.add(rule.id)
    for_findings = {rule.id for rule in rules.work if "open" not in rule.when}
    assert fired == for_findings - {"anything-else"}


def test_every_rule_for_findings_tells_how_to_reach_the_metal(rules: RuleSet) -> None:
    """A finding may be unproven whatever it is, for example on a map of a shop's own."""
    assert [r.id for r in rules.work if "open" not in r.when and not r.prove] == []


def test_a_condition_of_a_later_day_is_caught(zone_map: ZoneMap, rules: RuleSet) -> None:
    """The last rule fits everything."""
    entry = Entry("e1.1", "u1", "", Kind.FINDING, slots={"zone": "sill", "condition": "moss"})
    case = Cases(zone_map, rules.limits).of_finding(Finding(entry, grade=Grade.TREAT))
    assert next(advice_of(rules).fitting(case)).id == "anything-else"


def test_every_open_place_has_its_work(zone_map: ZoneMap, rules: RuleSet) -> None:
    """For everything that can be open, at every place; no rule for places stands in a shadow."""
    table, cases, fired = advice_of(rules), Cases(zone_map, rules.limits), set()
    for why, zone in product(OPEN, zone_map.zones):
        rule = next(table.fitting(cases.of_place(zone, None, why)), None)
        assert rule is not None, (why, zone)
        assert why in rule.when["open"]
        fired.add(rule.id)
    assert fired == {rule.id for rule in rules.work if "open" in rule.when}


def test_rules_for_places_never_fit_findings(zone_map: ZoneMap, rules: RuleSet) -> None:
    """Nor the other way round, not even the one that fits everything."""
    entry = Entry("e1.1", "u1", "", Kind.FINDING, slots={"zone": "sill", "condition": "hole"})
    cases = Cases(zone_map, rules.limits)
    found = list(advice_of(rules).fitting(cases.of_finding(Finding(entry, grade=Grade.REPAIR))))
    assert found
    assert all("open" not in rule.when for rule in found)
    open_rules = list(advice_of(rules).fitting(cases.of_place("sill", "left", "not-seen")))
    assert all("open" in rule.when for rule in open_rules)


def told(rules: RuleSet) -> Iterator[str]:
    """Every sentence of the work rules."""
    yield from rules.work_cautions
    for rule in rules.work:
        yield from (*rule.prove, *rule.steps, *rule.cautions)


def test_every_step_is_a_plain_sentence(rules: RuleSet) -> None:
    """With a capital, an end, and no longer than somebody takes in while reading aloud."""
    for text in told(rules):
        assert text.endswith("."), text
        assert text[0].isupper(), text
        assert len(text) < 200, text


def test_no_sentence_says_more_than_is_known(rules: RuleSet) -> None:
    """The tool never calls a vehicle safe, and names no money."""
    texts = [*told(rules), *pointer_texts(with_pointers(rules))]
    for text in texts:
        assert not words_in(text, NEVER), text


def words_in(text: str, words: tuple[str, ...]) -> list[str]:
    """Those of the words that stand in the text as whole words."""
    return [word for word in words if re.search(rf"\b{word}\b", text, re.IGNORECASE)]


def pointer_texts(rules: RuleSet) -> Iterator[str]:
    """Every sentence of the pointers."""
    for pointer in rules.pointers:
        yield from (pointer.document, pointer.item, pointer.about)


def test_no_pointer_says_whether_anything_passes(rules: RuleSet) -> None:
    """Nor how a deficiency is classed: that is for the inspector there."""
    for text in pointer_texts(with_pointers(rules)):
        assert not words_in(text, VERDICTS), text


def test_welding_always_comes_with_its_cautions(rules: RuleSet) -> None:
    """Qualified welder, maker's instructions, local law; battery off, tank and lines away."""
    welding = [
        rule
        for rule in rules.work
        if any(re.search(r"\bweld(ed)? (in|up)\b", step) for step in rule.steps)
    ]
    assert len(welding) > 8
    for rule in welding:
        cautions = " ".join(rule.cautions)
        for wanted in ("qualified welder", "maker", "local law", "battery", "fuel tank"):
            assert wanted in cautions, rule.id


def test_the_list_defers_to_those_who_may_decide(rules: RuleSet) -> None:
    """The sentences beside every list name licensed practice, the maker and local law."""
    said = " ".join(rules.work_cautions)
    for wanted in ("licensed practice", "maker's instructions", "local law", "stands"):
        assert wanted in said


def test_every_work_rule_says_where_it_comes_from(rules: RuleSet) -> None:
    """A public document and its place, or that there is no source."""
    known = re.compile(
        r"common practice, no source|UK MOT inspection manual, (Appendix A|1\.1\.11)|2011 ESP Code"
    )
    assert all(known.search(rule.source) for rule in rules.work)
    assert all(rule.urgency in ("", *URGENCIES) for rule in rules.work)


def test_every_shipped_caution_is_used(rules: RuleSet) -> None:
    """A name under [caution] that no work rule takes would never be read."""
    import tomllib

    table = tomllib.loads((grammar_dir() / "rules" / "frame.toml").read_text(encoding="utf-8"))
    used = {caution for rule in rules.work for caution in rule.cautions}
    assert used == set(table["caution"].values())


@pytest.mark.parametrize("name", map_names(grammar_dir()))
def test_no_critical_place_of_any_map_is_left_to_the_last_rule(name: str) -> None:
    """Work rules go by roles, so that they hold for every shipped map."""
    grammar: Grammar = load_grammar(name)
    rules, zones = grammar.rules, grammar.zone_map
    table, cases = advice_of(rules), Cases(zones, rules.limits)
    for zone in zones.zones.values():
        entry = Entry("e", "u", "", Kind.FINDING, slots={"zone": zone.id, "condition": "hole"})
        grade = Grade.UNSAFE if zone.role is Role.CRITICAL else Grade.REPAIR
        rule = next(table.fitting(cases.of_finding(Finding(entry, grade=grade))))
        assert rule.id.startswith(("rot-", "line-", "tank-", "belt-", "hitch-")), (zone.id, rule.id)


def test_zones_that_advice_names_are_on_a_map(rules: RuleSet) -> None:
    """A misspelt zone would never fit, and so never be noticed."""
    maps = [load_grammar(name).zone_map for name in map_names(grammar_dir())]
    known = {zone for zone_map in maps for zone in zone_map.zones}
    whens = [rule.when for rule in rules.work] + [p.when for p in with_pointers(rules).pointers]
    for when in whens:
        zones = when.get("zone", ())
        assert isinstance(zones, tuple)
        assert set(zones) <= known
