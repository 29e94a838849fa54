"""Why a finding has its grade, and what would have changed it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from itertools import product
from typing import Any

import pytest

from voicelog.domain.advice import Explanation
from voicelog.domain.entry import Add, Amend, Entry, Finding, Kind, Question
from voicelog.domain.grade import Grade, RuleSet
from voicelog.domain.slot import CONDITIONS, PROBES
from voicelog.domain.zone import Rails, ZoneMap
from voicelog.findings.grading import Grader, as_read
from voicelog.findings.ledger import Ledger
from voicelog.findings.what_if.explaining import Explainer, explain
from voicelog.findings.what_if.supposing import Supposing

Explain = Callable[..., Explanation]


@pytest.fixture(scope="module")
def explainer(zone_map: ZoneMap, rules: RuleSet) -> Explainer:
    """Over the shipped map and table."""
    return Explainer(zone_map, rules)


@pytest.fixture
def ledger(zone_map: ZoneMap, rules: RuleSet) -> Ledger:
    """An empty one."""
    return Ledger(zone_map, rules, Rails.MIXED)


@pytest.fixture
def told(ledger: Ledger, explainer: Explainer, make: Any) -> Explain:
    """Explains a finding with the slots given, as the ledger holds it."""

    def tell(**slots: Any) -> Explanation:
        (finding,) = ledger.apply([Add(make(**slots))])
        return explainer.explain(finding)

    return tell


def ifs(explanation: Explanation) -> dict[str, tuple[str, bool]]:
    """What would have been said, and the grade and mark it would have given."""
    return {one.said: (str(one.grade), one.unproven) for one in explanation.what_ifs}


def did(explanation: Explanation) -> dict[str, str]:
    """Rule to what it did."""
    return {r.id: t for r, t in zip(explanation.fired, explanation.told, strict=True)}


def walked(zone_map: ZoneMap) -> list[str | None]:
    """One place of each role, a main rail, and none at all."""
    of_role = {zone.role: zone.id for zone in zone_map.zones.values()}
    return [None, "mid-rail", "fuel-tank", *of_role.values()]


def found(ledger: Ledger, **slots: Any) -> Finding:
    """The ledger's finding with the slots that are not None."""
    known = {name: value for name, value in slots.items() if value is not None}
    entry = Entry("e1.1", "u1", "2026-01-05T08:00:00Z", Kind.FINDING, known)
    return ledger.preview([Add(entry)])[0]


@pytest.mark.parametrize("condition", [None, *CONDITIONS, "something-new"])
def test_what_fired_is_what_graded(
    condition: str | None, zone_map: ZoneMap, ledger: Ledger, explainer: Explainer
) -> None:
    """At every kind of place, under every probe: the finding's own rules, and a sentence for each."""
    for zone, probe in product(walked(zone_map), (None, *PROBES)):
        finding = found(ledger, zone=zone, condition=condition, probe=probe)
        told = explainer.explain(finding)
        assert tuple(rule.id for rule in told.fired) == finding.rules
        assert len(told.told) == len(told.fired)
        assert all(told_of.startswith("It ") and told_of.endswith(".") for told_of in told.told)


@pytest.mark.parametrize("condition", [None, *CONDITIONS, "something-new"])
def test_each_what_if_is_what_the_ledger_would_give(
    condition: str | None, zone_map: ZoneMap, ledger: Ledger, rules: RuleSet, explainer: Explainer
) -> None:
    """Saying it for real gives the grade, the mark and the rules that were told, and changes one."""
    supposing = Supposing(zone_map, rules.limits, Grader(zone_map, rules).landmarks)
    extras: list[dict[str, Any]] = [{}, {"spoken_grade": "treat", "surround": "firm"}]
    extras.append({"thickness_mm": 2.3, "nominal_mm": 3.0, "certainty": "tentative"})
    for zone, probe, more in product(walked(zone_map), (None, "firm", "dull"), extras):
        finding = found(ledger, zone=zone, condition=condition, probe=probe, **more)
        changes = {one.said: one.change for one in supposing.all_of(as_read(finding))}
        for one in explainer.what_ifs(finding):
            add = Add(finding.entry)
            (then,) = ledger.preview([add, changes[one.said]])
            assert (then.grade, then.unproven, then.rules) == (one.grade, one.unproven, one.rules)
            assert (one.grade, one.unproven) != (finding.grade, finding.unproven)


@pytest.mark.parametrize("condition", [None, *CONDITIONS])
def test_no_worse_probe_would_be_better(
    condition: str | None, zone_map: ZoneMap, ledger: Ledger, explainer: Explainer
) -> None:
    """From firm to gone through, what is told never gets better, and starts from what it is."""
    order = (
        "the probe found firm metal",
        "",
        "the metal gave way under the probe",
        "the probe went through",
    )
    for zone in walked(zone_map):
        finding = found(ledger, zone=zone, condition=condition)
        told = {one.said: one.grade for one in explainer.what_ifs(finding)}
        told[""] = finding.grade or Grade.COSMETIC
        ranks = [told[said].rank for said in order if said in told]
        assert ranks == sorted(ranks), zone


def test_marks_on_a_rail(told: Explain) -> None:
    """Surface rust nobody probed: proven by a firm probe, a repair once the metal gives way."""
    explanation = told(zone="mid-rail", side="left", condition="surface-rust")
    assert explanation.told == ("It gives cosmetic, unproven until a probe finds firm metal.",)
    would = ifs(explanation)
    assert would["the probe found firm metal"] == ("cosmetic", False)
    assert would["the metal gave way under the probe"] == ("repair", False)
    assert "the probe went through" not in would  # the same, and told already


def test_the_worst_comes_first(told: Explain) -> None:
    """Of equals the one that leaves it unproven."""
    told_of = told(zone="shock-mount", side="left", condition="blistering").what_ifs
    keys = [(-one.grade.rank, not one.unproven) for one in told_of]
    assert keys == sorted(keys)
    assert told_of[0].grade is Grade.UNSAFE


def test_a_hole_in_a_rail_hangs_on_its_distance(told: Explain) -> None:
    """Near a mounting it is unsafe; at a mounting itself no distance would change it."""
    near = "it was within 300 mm of a steering, suspension, brake, belt or hitch mounting"
    assert ifs(told(zone="mid-rail", condition="hole"))[near] == ("unsafe", False)
    assert near not in ifs(told(zone="shock-mount", condition="hole"))
    far = ifs(told(zone="mid-rail", condition="hole", mount_distance_mm=200.0))
    said = near.replace("within", "more than").replace("of a", "from every")
    assert far[said] == ("repair", False)


def test_about_a_foot_is_within_and_what_is_outside_says_so(told: Explain) -> None:
    """An approximate distance reaches further, so outside lies further away."""
    landmark = "about a foot ahead of the shock mount"
    explanation = told(
        zone="mid-rail", condition="hole", mount_distance_mm=304.8, landmark=landmark
    )
    assert any(said.startswith("it was more than 330 mm") for said in ifs(explanation))


def test_scale_is_proven_by_measuring_bare_metal(told: Explain) -> None:
    """Not by a probe, which the rule does not ask for."""
    would = ifs(told(zone="mid-rail", condition="scale"))
    assert would["bare metal was measured"] == ("repair", False)
    assert "the probe found firm metal" not in would


def test_blisters_are_proven_by_scraping_them_open(told: Explain) -> None:
    """What opens them up."""
    would = ifs(told(zone="mid-rail", condition="blistering"))
    assert would["it was scraped open"] == ("treat", False)


def test_a_reading_tells_the_thickness_at_each_limit(told: Explain) -> None:
    """At a critical mounting 15 % counts; 85 % of 4 mm is 3.4 mm."""
    slots = {"zone": "shock-mount", "condition": "thinning", "layer": "metal"}
    would = ifs(told(**slots, thickness_mm=3.8, nominal_mm=4.0))
    assert would["bare metal measured 3.6 mm or less, 10 % lost"] == ("treat", False)
    assert would["bare metal measured 3.4 mm or less, 15 % lost"] == ("unsafe", False)
    assert not any("25 %" in said for said in would)  # unsafe already


def test_a_limit_within_the_gauges_uncertainty_is_told_both_ways(told: Explain) -> None:
    """2.25 of 3 mm is 25 % lost: the rule holds, and says that the gauge cannot tell."""
    slots = {"zone": "mid-rail", "condition": "thinning", "layer": "metal", "nominal_mm": 3.0}
    over = told(**slots, thickness_mm=2.25)
    assert did(over)["wall-loss"].endswith("Its limit lies within the gauge's ±0.1 mm.")
    clear = "bare metal measured 2.26 mm or more, less than 25 % lost, which lies within the gauge's ±0.1 mm"
    assert ifs(over)[clear] == ("treat", False)
    under = told(**slots, thickness_mm=2.3)
    thin = "bare metal measured 2.25 mm or less, 25 % lost, which lies within the gauge's ±0.1 mm"
    assert ifs(under)[thin] == ("repair", False)
    assert not any("2.26" in said for said in ifs(under))


def test_a_reading_without_a_nominal_asks_for_it(told: Explain) -> None:
    """2.25 mm is 25 % less than 3 mm."""
    would = ifs(told(zone="mid-rail", condition="thinning", thickness_mm=2.25))
    assert would["it was 3 mm or more when new, 25 % lost"] == ("repair", True)


def test_the_inspectors_own_grade_may_be_taken_back(told: Explain) -> None:
    """Then the rules' grade counts."""
    would = ifs(told(zone="mid-rail", condition="hole", spoken_grade="treat"))
    assert would["the inspector's own grade, treat, was taken back"] == ("repair", False)


def test_nobody_is_told_to_pick_at_a_line_or_tank(told: Explain) -> None:
    """They are looked at; a reading needs no scraping there."""
    for zone in ("brake-line", "fuel-tank"):
        said = " ".join(ifs(told(zone=zone, condition="pitting")))
        assert "probe" not in said
        assert "scraped" not in said
        assert "bare metal" not in said


@pytest.mark.parametrize(
    ("zone", "condition"),
    [("steering-box-mount", "leak"), ("tank-strap", "missing-part"), ("brake-line", "old-repair")],
)
def test_metal_around_it_is_asked_of_faults_in_metal(
    zone: str, condition: str, told: Explain
) -> None:
    """A leak has no metal around it to weld to, and a line is not patched."""
    assert not any("solid metal" in said for said in ifs(told(zone=zone, condition=condition)))


def test_what_would_change_nothing_is_not_told(told: Explain) -> None:
    """A crack in a rail is unsafe whatever else is said."""
    assert told(zone="mid-rail", condition="crack").what_ifs == ()


def test_a_finding_without_a_place_is_explained_at_the_worst(
    ledger: Ledger, explainer: Explainer, make: Any
) -> None:
    """Of the places that were asked about, and each of them would settle it."""
    asked = (Question("zone", ("sill", "shock-mount")),)
    (finding,) = ledger.apply([Add(make(condition="hole", questions=asked))])
    told = explainer.explain(finding)
    assert finding.grade is Grade.UNSAFE
    assert "at the worst place it may be (shock mount)" in told.told[0]
    assert ifs(told)["it was at the sill"] == ("repair", False)


def test_cautions_and_steps_are_told_as_what_they_are(told: Explain) -> None:
    """One changes no grade, another makes it a step worse, and a floor may be there already."""
    line = did(told(zone="brake-line", condition="surface-rust"))
    assert line["hands-off-line"] == "It gives a caution and changes no grade."
    dull = did(told(zone="mid-rail", condition="surface-rust", probe="dull"))
    assert (
        dull["probe-doubtful"]
        == "It makes it one step worse, as far as a soft probe would, unproven."
    )
    soft = did(told(zone="mid-rail", condition="scale", probe="soft"))
    assert soft["probe-failed"] == "It asks for repair at the least, as it is already."
    bad = did(told(zone="shock-mount", condition="scale", probe="soft"))
    assert bad["probe-failed-at-mounting"] == "It makes it unsafe, and gives a caution."
    hole = did(told(zone="shock-mount", condition="hole", probe="soft"))
    assert hole["rot-at-mounting"].startswith("It asks for unsafe at the least, as it is already")


def test_words_about_something_else_explain_nothing(
    ledger: Ledger, explainer: Explainer, make: Any
) -> None:
    """A condition put right: its old words no longer fire a rule, and the finding says which count."""
    entry = make(zone="mid-rail", condition="deformation", text="small dent")
    (dent,) = ledger.apply([Add(entry)])
    assert dent.words == "small dent"
    (other,) = ledger.apply([Amend(entry.id, {"condition": "pitting"}, "correction")])
    assert other.words == ""
    assert tuple(rule.id for rule in explainer.explain(other).fired) == other.rules


def test_a_loss_is_read_as_it_was_graded(zone_map: ZoneMap, rules: RuleSet, make: Any) -> None:
    """24.96 % is shown as 25.0 and is no quarter: by the map's nominal thickness."""
    zone = replace(zone_map["mid-rail"], nominal_mm=3.0)
    own_map = replace(zone_map, zones={**zone_map.zones, "mid-rail": zone})
    ledger = Ledger(own_map, rules, Rails.MIXED)
    (finding,) = ledger.apply(
        [Add(make(zone="mid-rail", condition="thinning", thickness_mm=2.2512))]
    )
    assert finding.entry.slots["loss_percent"] == 25.0
    told = explain(finding, own_map, rules)
    assert tuple(rule.id for rule in told.fired) == finding.rules
    assert "wall-loss" not in finding.rules
    assert told.loss is not None
    assert told.loss.nominal_from == "map"


def test_an_entry_without_a_grade_has_nothing_to_explain(
    ledger: Ledger, explainer: Explainer, make: Any
) -> None:
    """A clear is no finding."""
    (clear,) = ledger.apply([Add(make(Kind.CLEAR, zone="sill", side="left"))])
    assert explainer.explain(clear) == Explanation(clear.entry.id, (), ())
    assert explainer.what_ifs(clear) == ()
