"""The ledger: changes folded into findings with their history."""

from __future__ import annotations

import time
from collections.abc import Callable
from dataclasses import replace
from typing import Any

import pytest

from voicelog.domain.change_json import change_to_json
from voicelog.domain.entry import Add, Amend, Entry, Inspection, Kind, Withdraw
from voicelog.domain.fact import Fact
from voicelog.domain.grade import RuleSet
from voicelog.domain.zone import Rails, ZoneMap
from voicelog.errors import LogFault
from voicelog.findings.ledger import Ledger, fold


@pytest.fixture
def ledger(zone_map: ZoneMap, rules: RuleSet) -> Ledger:
    """An empty one."""
    return Ledger(zone_map, rules, Rails.OPEN)


def fact(seq: int, *changes: Any, type_: str = "utterance") -> Fact:
    """A line of a log."""
    body = {"changes": [change_to_json(change) for change in changes]}
    return Fact(seq, "2026-01-05T08:00:00Z", 0.0, "0" * 64, type_, body)


def test_an_added_finding_is_graded(ledger: Ledger, make: Any) -> None:
    """The entries touched come back as they stand, graded."""
    (finding,) = ledger.apply([Add(make(zone="shock-mount", side="left", condition="hole"))])
    assert (finding.grade, finding.computed_grade, finding.spoken_grade) == (
        "unsafe",
        "unsafe",
        None,
    )
    assert finding.rules == ("hole", "rot-at-mounting")
    assert finding.cautions
    assert not finding.unproven


@pytest.mark.parametrize("kind", [k for k in Kind if k is not Kind.FINDING])
def test_only_findings_are_graded(kind: Kind, ledger: Ledger, make: Any) -> None:
    """A clear, a photo, a remark or a place not seen has no grade."""
    (finding,) = ledger.apply([Add(make(kind, zone="mid-rail", condition="hole"))])
    assert (finding.grade, finding.rules, finding.cautions) == (None, (), ())


def test_a_probe_that_went_through_keeps_its_history(ledger: Ledger, make: Any) -> None:
    """Surface rust, then "scraper went through it": one entry with two states."""
    rust = make(zone="front-rail", side="left", condition="surface-rust")
    ledger.apply([Add(rust)])
    (finding,) = ledger.apply([Amend(rust.id, {"probe": "through", "condition": "hole"}, "probe")])
    assert finding.entry.slots["condition"] == "hole"
    assert finding.history == (rust,)
    assert finding.grade == "repair"
    assert len(ledger.inspection().findings) == 1


def test_an_amendment_can_change_the_kind(ledger: Ledger, make: Any) -> None:
    """What becomes clear has no grade any more, and its history says what it was."""
    rust = make(zone="front-rail", condition="surface-rust")
    ledger.apply([Add(rust)])
    (finding,) = ledger.apply(
        [Amend(rust.id, {}, "correction", drop=("condition",), kind=Kind.CLEAR)]
    )
    assert finding.grade is None
    assert "condition" not in finding.entry.slots
    assert finding.history[0].kind is Kind.FINDING


def test_withdrawn_entries_are_kept_and_marked(ledger: Ledger, make: Any) -> None:
    """Nothing said is lost; only the live ones count."""
    hole, rust = make(zone="sill", condition="hole"), make(zone="sill", condition="surface-rust")
    ledger.apply([Add(hole), Add(rust)])
    (finding,) = ledger.apply([Withdraw(hole.id)])
    inspection = ledger.inspection()
    assert finding.withdrawn
    assert [f.entry.id for f in inspection.findings] == [hole.id, rust.id]
    assert [f.entry.id for f in inspection.live] == [rust.id]
    assert inspection.verdict.work == "none"


def test_an_entry_touched_twice_comes_back_once(ledger: Ledger, make: Any) -> None:
    """As it stands after all changes of the utterance."""
    rust = make(zone="sill", condition="surface-rust")
    touched = ledger.apply(
        [Add(rust), Amend(rust.id, {"side": "left"}, "place"), Withdraw(rust.id)]
    )
    (finding,) = touched
    assert finding.withdrawn
    assert finding.entry.slots["side"] == "left"


@pytest.mark.parametrize(
    "changes",
    [
        lambda _: [Amend("e9.9", {"side": "left"}, "correction")],
        lambda _: [Withdraw("e9.9")],
        lambda entry: [Add(entry), Add(entry)],
    ],
)
def test_changes_that_fit_nothing_are_a_damaged_log(
    changes: Callable[[Entry], list[Any]], ledger: Ledger, make: Any
) -> None:
    """The fault names the entry and the next step; nothing of the utterance is taken in."""
    good = make(zone="sill", condition="hole")
    with pytest.raises(LogFault, match=r"e\d\.\d") as caught:
        ledger.apply([Add(good), *changes(make(zone="sill"))])
    assert "verify" in caught.value.hint
    assert ledger.inspection().findings == ()


def test_the_loss_is_worked_out(ledger: Ledger, make: Any) -> None:
    """In percent to one decimal, and anew when the reading is corrected."""
    thin = make(zone="mid-rail", condition="thinning", thickness_mm=1.9, nominal_mm=2.5)
    (finding,) = ledger.apply([Add(thin)])
    assert finding.entry.slots["loss_percent"] == 24.0
    stale = {"thickness_mm": 1.0, "loss_percent": 24.0}
    (finding,) = ledger.apply([Amend(thin.id, stale, "correction")])
    assert finding.entry.slots["loss_percent"] == 60.0
    assert finding.history[0].slots["loss_percent"] == 24.0
    assert finding.grade == "repair"


@pytest.mark.parametrize(
    ("measured", "nominal", "told"),
    [
        (0.1406, 0.1875, "25.0"),
        (0.090, 0.1196, "24.7"),
        (0.205, 0.1875, "-9.3"),
        (2.5005, 2.5, "0.0"),
    ],
)
def test_the_loss_is_told_to_one_decimal(
    measured: float, nominal: float, told: str, ledger: Ledger, make: Any
) -> None:
    """NVIC 7-68 in TB 55-1900-201-45/1: a quarter of new 3/16 in plate, and that plate over its nominal.

    A hair over nominal is nothing lost, and no less than that.
    """
    thin = make(zone="sill", condition="thinning", thickness_mm=measured, nominal_mm=nominal)
    (finding,) = ledger.apply([Add(thin)])
    assert str(finding.entry.slots["loss_percent"]) == told


def test_the_loss_against_the_map_s_nominal(zone_map: ZoneMap, rules: RuleSet, make: Any) -> None:
    """A shop that knows its frame's thickness gets a loss without saying it every time."""
    rail = replace(zone_map["mid-rail"], nominal_mm=4.0)
    own_map = replace(zone_map, zones={**zone_map.zones, "mid-rail": rail})
    ledger = Ledger(own_map, rules, Rails.OPEN)
    (finding,) = ledger.apply([Add(make(zone="mid-rail", condition="thinning", thickness_mm=2.0))])
    assert finding.entry.slots["loss_percent"] == 50.0
    assert "nominal_mm" not in finding.entry.slots
    assert finding.grade == "repair"


def test_a_thickness_alone_has_no_loss(ledger: Ledger, make: Any) -> None:
    """Without a nominal nothing is made up."""
    (finding,) = ledger.apply([Add(make(zone="mid-rail", condition="thinning", thickness_mm=2.0))])
    assert "loss_percent" not in finding.entry.slots


def test_words_no_longer_count_once_the_condition_was_corrected(ledger: Ledger, make: Any) -> None:
    """A small dent, then "correction, kinked", must not stay a dent."""
    dent = make(zone="mid-rail", condition="deformation", text="small dent")
    (finding,) = ledger.apply([Add(dent)])
    assert finding.grade == "treat"
    ledger.apply([Amend(dent.id, {"side": "left"}, "correction")])
    (finding,) = ledger.apply([Amend(dent.id, {"condition": "deformation"}, "correction")])
    assert finding.grade == "unsafe"


def test_words_still_count_after_a_probe(ledger: Ledger, make: Any) -> None:
    """A riveted patch stays riveted when a later probe names its condition again."""
    patch = make(zone="mid-rail", condition="old-repair", text="riveted patch")
    ledger.apply([Add(patch)])
    probed = {"condition": "old-repair", "probe": "firm"}
    (finding,) = ledger.apply([Amend(patch.id, probed, "probe")])
    assert finding.rules[0] == "failed-repair"


def test_what_a_probe_makes_of_it_keeps_its_words(ledger: Ledger, make: Any) -> None:
    """Rust at a jack pad that the probe goes through is a hole at a jack pad: come out from under it."""
    rust = make(zone="sill", condition="surface-rust", text="surface rust at the jack pad")
    ledger.apply([Add(rust)])
    (hole,) = ledger.apply([Amend(rust.id, {"probe": "through", "condition": "hole"}, "probe")])
    assert "lift-point-rot-said" in hole.rules


def test_a_probe_brings_no_words_back(ledger: Ledger, make: Any) -> None:
    """What was corrected to something else was not said of what the probe finds there."""
    rust = make(zone="sill", condition="surface-rust", text="surface rust at the jack pad")
    ledger.apply([Add(rust), Amend(rust.id, {"condition": "crack"}, "correction")])
    (hole,) = ledger.apply([Amend(rust.id, {"probe": "through", "condition": "hole"}, "probe")])
    assert hole.words == ""


def test_lines_that_are_lost_are_told_of(zone_map: ZoneMap, rules: RuleSet, make: Any) -> None:
    """Nobody can say that no danger was found in what nobody can read."""
    lost = Fact(2, "2026-01-05T08:00:00Z", 0.0, "0" * 64, "left-out", {})
    inspection = fold([fact(1, Add(make(zone="sill"))), lost], zone_map, rules)
    assert inspection.lost == (2,)
    assert "Not enough seen: line 2" in inspection.verdict.because[0]


def test_a_log_folds_to_what_the_ledger_says(
    zone_map: ZoneMap, rules: RuleSet, ledger: Ledger, make: Any
) -> None:
    """Facts without changes, and kinds nobody knows yet, are passed over."""
    rust = make(zone="front-rail", side="left", condition="surface-rust")
    crack = make(zone="kick-up", side="right", condition="crack")
    changes = [
        [Add(rust), Add(crack)],
        [Amend(rust.id, {"probe": "firm"}, "probe")],
        [Withdraw(crack.id)],
    ]
    opened = Fact(1, "2026-01-05T08:00:00Z", 0.0, "0" * 64, "opened", {"map": "ladder-frame"})
    unknown = Fact(2, "2026-01-05T08:00:00Z", 0.0, "0" * 64, "invented", {})
    lines = [opened, unknown, *(fact(n, *these) for n, these in enumerate(changes, 3))]
    for these in changes:
        ledger.apply(these)
    assert fold(lines, zone_map, rules, Rails.OPEN) == ledger.inspection()


@pytest.mark.parametrize(
    "changes", [[{"do": "explode"}], [{"do": "amend"}], ["add"], 7, [{"do": "add", "entry": 3}]]
)
def test_a_change_nobody_can_read(changes: object, zone_map: ZoneMap, rules: RuleSet) -> None:
    """The fault names the line."""
    line = Fact(12, "2026-01-05T08:00:00Z", 0.0, "0" * 64, "utterance", {"changes": changes})
    with pytest.raises(LogFault, match="Line 12"):
        fold([line], zone_map, rules)


def test_an_empty_log(zone_map: ZoneMap, rules: RuleSet) -> None:
    """Nothing said: nothing found, nothing known."""
    inspection = fold([], zone_map, rules)
    assert isinstance(inspection, Inspection)
    assert inspection.findings == ()
    assert inspection.verdict.drive == "not-enough-seen"


def test_taking_in_a_change_costs_the_same_however_long_the_log(
    zone_map: ZoneMap, rules: RuleSet, make: Any
) -> None:
    """At its best an utterance is under 3 times slower after twenty thousand entries."""

    def best_of(ledger: Ledger) -> float:
        times = []
        for _ in range(30):
            entry = make(zone="mid-rail", condition="hole")
            start = time.perf_counter()
            ledger.apply([Add(entry), Amend(entry.id, {"probe": "soft"}, "probe")])
            times.append(time.perf_counter() - start)
        return min(times)

    ledger = Ledger(zone_map, rules, Rails.OPEN)
    early = best_of(ledger)
    ledger.take(Add(make(zone="sill", condition="surface-rust")) for _ in range(20_000))
    assert best_of(ledger) < 3 * early
