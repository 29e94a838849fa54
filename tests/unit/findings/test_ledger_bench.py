"""The ledger at the bench: looked ahead, restored, replaced whole."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from voicelog.domain.entry import Add, Amend, Kind, Replace, Restore, State, Withdraw
from voicelog.domain.grade import Grade, RuleSet
from voicelog.domain.zone import Rails, ZoneMap
from voicelog.errors import LogFault
from voicelog.findings.ledger import Ledger


@pytest.fixture
def ledger(zone_map: ZoneMap, rules: RuleSet) -> Ledger:
    """Empty."""
    return Ledger(zone_map, rules, Rails.OPEN)


@pytest.fixture
def rust(make: Any) -> Any:
    """Surface rust on a rail."""
    return make(
        zone="front-rail", side="left", condition="surface-rust", probe="firm", text="surface rust"
    )


def test_looking_ahead_takes_nothing_in(ledger: Ledger, rust: Any) -> None:
    """It grades what would stand, and all stays as it was."""
    ledger.apply([Add(rust)])
    before = ledger.inspection()
    (ahead,) = ledger.preview([Amend(rust.id, {"condition": "crack"}, "correction")])
    assert (ahead.grade, len(ahead.history)) == (Grade.UNSAFE, 1)
    assert ledger.inspection() == before
    assert ledger[rust.id].grade is not Grade.UNSAFE


def test_looking_ahead_sees_several_changes_of_one_entry(ledger: Ledger, rust: Any) -> None:
    """Each entry once, as it would stand after all of them."""
    ledger.apply([Add(rust)])
    changes = [Withdraw(rust.id), Restore(rust.id), Amend(rust.id, {"side": "right"}, "correction")]
    (ahead,) = ledger.preview(changes)
    assert (ahead.withdrawn, ahead.entry.slots["side"]) == (False, "right")


def test_a_state_is_what_was_kept(ledger: Ledger, make: Any) -> None:
    """Not what was worked out from it; nothing for an entry that is not there."""
    thin = make(zone="sill", side="left", condition="thinning", thickness_mm=2.0, nominal_mm=3.0)
    ledger.apply([Add(thin)])
    assert ledger.state(thin.id) == State(thin)
    assert (ledger.entry(thin.id), ledger.entry("e99.1")) == (thin, None)
    assert ledger[thin.id].entry.slots["loss_percent"] == 33.3
    ledger.apply([Withdraw(thin.id)])
    assert ledger.state(thin.id) == State(thin, withdrawn=True)
    assert (ledger.state("e99.1"), "e99.1" in ledger, thin.id in ledger) == (None, False, True)
    with pytest.raises(KeyError):
        ledger["e99.1"]


def test_what_is_restored_counts_again(ledger: Ledger, rust: Any) -> None:
    """With its grade, and without a new state in its history."""
    crack = replace(rust, slots={**rust.slots, "condition": "crack"}, text="crack")
    ledger.apply([Add(crack)])
    verdict = ledger.inspection().verdict
    (gone,) = ledger.apply([Withdraw(crack.id)])
    assert ledger.inspection().verdict != verdict
    (back,) = ledger.apply([Restore(crack.id)])
    assert (gone.withdrawn, back.withdrawn, back.history) == (True, False, ())
    assert ledger.inspection().verdict == verdict


def test_an_entry_replaced_keeps_how_it_stood(ledger: Ledger, rust: Any) -> None:
    """Its kind may change; withdrawn stays withdrawn."""
    ledger.apply([Add(rust)])
    clear = replace(rust, kind=Kind.CLEAR, slots={"zone": "front-rail", "side": "left"})
    (now,) = ledger.apply([Replace(clear)])
    assert (now.entry, now.history, now.grade) == (clear, (rust,), None)
    ledger.apply([Withdraw(rust.id)])
    (still,) = ledger.apply([Replace(rust)])
    assert (still.withdrawn, still.entry, len(still.history)) == (True, rust, 2)


def test_words_read_anew_are_graded_by_what_they_say(ledger: Ledger, make: Any) -> None:
    """Words grade while they describe the condition; those of another condition do not."""
    light = make(zone="sill", side="left", condition="pitting", text="light pitting")
    ledger.apply([Add(light)])
    assert ledger[light.id].rules[0] == (by_words := "light-pitting")
    (crack,) = ledger.apply([Replace(replace(light, slots={**light.slots, "condition": "crack"}))])
    assert crack.grade is not None
    ledger.apply([Replace(replace(light, slots={**light.slots, "condition": "thinning"}))])
    (back,) = ledger.apply([Replace(light)])
    assert back.rules[0] == by_words
    (anew,) = ledger.apply([Replace(replace(light, text="deep pitting"))])
    assert anew.rules[0] != by_words


@pytest.mark.parametrize("change", [Restore("e7.1"), Withdraw("e7.1"), "replace"])
def test_what_is_not_there_cannot_be_changed(ledger: Ledger, rust: Any, change: Any) -> None:
    """All of a line is taken in, or nothing."""
    wanted = Replace(replace(rust, id="e7.1")) if change == "replace" else change
    for take in (ledger.preview, ledger.apply):
        with pytest.raises(LogFault, match="e7.1, which is not there"):
            take([Add(rust), wanted])
    assert rust.id not in ledger


def test_the_same_entry_is_graded_alike_however_it_came_about(ledger: Ledger, make: Any) -> None:
    """Corrected there and back, or undone: its words count as they did, no more and no less."""
    light = make(zone="sill", side="left", condition="pitting", text="light pitting")
    hole = replace(light, slots={**light.slots, "condition": "hole"})
    (said,) = ledger.apply([Add(light)])
    (away,) = ledger.apply([Amend(light.id, {"condition": "hole"}, "correction")])
    (there_and_back,) = ledger.apply([Amend(light.id, {"condition": "pitting"}, "correction")])
    assert (there_and_back.grade, there_and_back.rules) == (said.grade, said.rules)
    (undone,) = ledger.apply([Replace(hole)])
    assert (undone.grade, undone.rules) == (away.grade, away.rules)
    (as_said,) = ledger.apply([Replace(light)])
    assert (as_said.grade, as_said.rules) == (said.grade, said.rules)
