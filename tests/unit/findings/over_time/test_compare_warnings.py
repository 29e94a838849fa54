"""What is said before a comparison is read: vehicle, order, map, rails, rules."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import Any

import pytest

from voicelog.domain.comparison import Inspected
from voicelog.domain.entry import Add, Entry, Kind
from voicelog.domain.grade import Grade, RuleSet
from voicelog.domain.zone import Rails, ZoneMap
from voicelog.findings.ledger import Ledger
from voicelog.findings.over_time.compare import compare

Make = Callable[..., Inspected]
VIN, OTHER = "1M8GDM9AXKP042788", "11111111111111111"
HOLE = {"zone": "front-rail", "side": "left", "condition": "hole"}


def warned(make: Make, then: dict[str, Any], now: dict[str, Any]) -> str:
    """All warnings as one text."""
    older, newer = make(**then), make(which="newer", **now)
    return " | ".join(compare(older, newer).warnings)


def test_nothing_to_warn_of(inspected: Make) -> None:
    """The same vehicle, map and rules."""
    assert warned(inspected, {}, {}) == ""
    assert (
        warned(inspected, {"vin": VIN, "subject": "a"}, {"vin": VIN.lower(), "subject": "b"}) == ""
    )


@pytest.mark.parametrize(
    ("then", "now", "said"),
    [
        ({"vin": VIN}, {"vin": OTHER}, "The VINs differ"),
        ({"subject": "pickup 12"}, {"subject": "van 3"}, "named differently"),
        ({"subject": ""}, {}, "Nothing in the logs says that they are about one vehicle"),
        ({"vin": VIN, "subject": ""}, {"subject": ""}, "Nothing in the logs says"),
        ({"rails": Rails.BOXED}, {"rails": Rails.OPEN}, "boxed then and open now"),
        ({"day": "2028-01-01"}, {}, "log named first is the later one"),
    ],
)
def test_warnings(inspected: Make, then: dict[str, Any], now: dict[str, Any], said: str) -> None:
    """Each names what may be wrong."""
    told = warned(inspected, then, now).replace(
        "name what was inspected differently", "named differently"
    )
    assert said in told


def test_the_order_is_kept_as_asked(inspected: Make) -> None:
    """A clock may have been wrong: who asks knows better."""
    late = inspected(HOLE, day="2028-01-01")
    comparison = compare(late, inspected(which="newer"))
    assert (comparison.older, comparison.differences[0].older) == ("older", ("e1.1",))


def test_one_log_given_twice(inspected: Make) -> None:
    """It is said, and everything is the same."""
    comparison = compare(inspected(HOLE), inspected(HOLE))
    assert comparison.warnings == ("Both are the same log",)
    assert comparison.counts() == {"same": 1}


def test_places_on_one_map_only_are_named_and_compared_no_further(
    inspected: Make, zone_map: ZoneMap
) -> None:
    """What was found there then stays open; what is found there now is not called new growth."""
    zones = {name: zone for name, zone in zone_map.zones.items() if name != "front-rail"}
    small = ZoneMap("another", "", zones)
    lost = compare(inspected(HOLE), inspected(which="newer", zone_map=small))
    assert "The maps differ" in lost.warnings[0]
    assert lost.warnings[1] == "Only on the older map: front rail"
    (difference,) = lost.differences
    assert difference.change == "not-looked-at-again"
    assert difference.text.startswith("Left front rail: then hole")
    assert "newer map has no such place" in difference.text
    new = compare(inspected(zone_map=small), inspected(HOLE, which="newer"))
    assert "older map has no such place" in new.differences[0].text


def test_a_place_that_another_map_describes_otherwise_is_named(
    inspected: Make, zone_map: ZoneMap
) -> None:
    """Its grade may differ for the map's sake."""
    sill = replace(zone_map["sill"], nominal_mm=9.0)
    other = replace(zone_map, zones={**zone_map.zones, "sill": sill})
    comparison = compare(inspected(), inspected(which="newer", zone_map=other))
    assert comparison.warnings == ("These places are described differently on the two maps: sill",)


def test_other_wording_is_not_other_rules(inspected: Make, rules: RuleSet) -> None:
    """A sentence put better changes no grade."""
    reworded = tuple(replace(rule, text="Put better.") for rule in rules.rules)
    newer = inspected(HOLE, which="newer", rules=replace(rules, rules=reworded))
    assert compare(inspected(HOLE), newer).warnings == ()


def test_other_rules_grade_the_older_findings_too(
    inspected: Make, zone_map: ZoneMap, rules: RuleSet, table: Callable[..., RuleSet]
) -> None:
    """A stricter limit alone makes nothing worse: both are graded by the newer, and both are told."""
    strict = table(wall_loss_percent=5.0)
    thin = {**HOLE, "condition": "thinning", "loss_percent": 8.0}
    by_new = inspected(thin, rules=strict)
    older = replace(inspected(thin), regraded=by_new.inspection)
    comparison = compare(older, inspected(thin, which="newer", rules=strict))
    (difference,) = comparison.differences
    assert difference.change == "same"
    assert difference.then is Grade.REPAIR
    assert "graded by the newer log's rules" in comparison.warnings[0]
    assert "would be" in comparison.warnings[1]
    unknown = compare(inspected(thin), inspected(thin, which="newer", rules=strict))
    assert "each log is graded by its own" in unknown.warnings[0]


def test_the_older_logs_own_grade_is_told_where_it_differs(
    inspected: Make, table: Callable[..., RuleSet]
) -> None:
    """The older log said cosmetic, and still does."""
    strict = table(wall_loss_percent=5.0)
    thin = {**HOLE, "condition": "thinning", "loss_percent": 8.0}
    older = replace(inspected(thin), regraded=inspected(thin, rules=strict).inspection)
    (difference,) = compare(older, inspected(which="newer", rules=strict)).differences
    assert "repair, cosmetic by its own rules" in difference.text


def test_verdicts_of_both_stand_beside_each_other(inspected: Make) -> None:
    """Each by its own rules."""
    comparison = compare(inspected(), inspected({**HOLE, "zone": "shock-mount"}, which="newer"))
    assert comparison.then.drive == "not-enough-seen"
    assert comparison.now.drive == "do-not-drive"
    assert comparison.now.map == "ladder-frame"


def test_withdrawn_entries_are_not_compared(
    zone_map: ZoneMap, rules: RuleSet, inspected: Make
) -> None:
    """What was taken back is in no difference."""
    from voicelog.domain.entry import Withdraw

    ledger = Ledger(zone_map, rules, Rails.OPEN)
    entry = Entry("e1.1", "u1", "2026-01-05T08:00:00Z", Kind.FINDING, HOLE)
    ledger.apply((Add(entry), Withdraw("e1.1")))
    older = replace(inspected(), inspection=ledger.inspection())
    assert compare(older, inspected(which="newer")).differences == ()


def test_milder_answers_are_explained_where_findings_are_open_still(inspected: Make) -> None:
    """Two rotten rails of which one is looked at again sound repairable; they need not be."""
    rotten = {"zone": "rear-rail", "condition": "hole"}
    then, now = {**rotten, "side": "both"}, {**rotten, "side": "left"}
    comparison = compare(inspected(then), inspected(now, which="newer"))
    assert (comparison.then.tier, comparison.now.tier) == ("beyond-repair", "repairable")
    [told] = comparison.warnings
    assert "tier: beyond repair then, repairable now" in told
    assert "but 1 finding of then may be as bad as then or worse" in told


def test_milder_answers_need_no_word_where_all_was_mended_or_nothing_was_milder(
    inspected: Make,
) -> None:
    """A repair told of explains it; a worse answer explains itself."""
    mended = {**HOLE, "condition": "old-repair"}
    milder = compare(inspected(HOLE), inspected(mended, which="newer"))
    assert [d.change for d in milder.differences] == ["repaired"]
    worse = compare(inspected(HOLE), inspected({**HOLE, "zone": "shock-mount"}, which="newer"))
    assert (milder.warnings, worse.warnings) == ((), ())
