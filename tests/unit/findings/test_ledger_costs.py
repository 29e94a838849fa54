"""What one more utterance costs a ledger: counted, so that no slow machine can spoil it."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest

from voicelog.config.grammar import Grammar, load_grammar
from voicelog.domain.entry import Add, Amend, Entry, Inspection, Kind
from voicelog.domain.zone import Rails
from voicelog.findings import whole
from voicelog.findings.coverage import cover
from voicelog.findings.grading import Graded, Grader
from voicelog.findings.ledger import Ledger
from voicelog.findings.verdict import judge

SLOTS = {"zone": "mid-rail", "side": "left", "condition": "hole"}


def entry(number: int) -> Entry:
    """A finding like any other."""
    return Entry(f"e{number}.1", f"u{number}", "2026-01-05T08:00:00Z", Kind.FINDING, SLOTS)


@pytest.fixture(scope="module")
def shipped() -> Grammar:
    """What a person gets who edits nothing."""
    return load_grammar()


@pytest.fixture(params=[10, 1_000])
def ledger(shipped: Grammar, request: pytest.FixtureRequest) -> Ledger:
    """A ledger of so many findings, looked at before."""
    made = Ledger(shipped.zone_map, shipped.rules, Rails.MIXED)
    made.apply(Add(entry(number)) for number in range(2, 2 + request.param))
    made.inspection()
    return made


def test_one_more_finding_is_graded_once_and_the_others_not_again(
    ledger: Ledger, monkeypatch: pytest.MonkeyPatch
) -> None:
    """However many there are: the entry that is new, then the one that changes."""
    graded: list[str] = []
    grade = Grader.grade

    def noted(self: Grader, one: Entry, words: str | None = None) -> Graded:
        graded.append(one.id)
        return grade(self, one, words)

    monkeypatch.setattr(Grader, "grade", noted)
    ledger.apply([Add(entry(9_000))])
    ledger.inspection()
    ledger.apply([Amend("e2.1", {"probe": "through"}, "probe")])
    assert ledger.inspection().findings[0].entry.slots["probe"] == "through"
    assert graded == ["e9000.1", "e2.1"]


def test_places_are_gone_through_only_when_somebody_looks(
    ledger: Ledger, monkeypatch: pytest.MonkeyPatch
) -> None:
    """An utterance that nobody asks anything after costs no coverage and no verdict; one look costs
    one of each.
    """
    done: list[str] = []

    def noted(name: str, work: Callable[..., Any]) -> Callable[..., Any]:
        def working(*asked: object) -> Any:
            done.append(name)
            return work(*asked)

        return working

    monkeypatch.setattr(whole, "cover", noted("cover", cover))
    monkeypatch.setattr(whole, "judge", noted("judge", judge))
    for number in range(9_000, 9_020):
        ledger.apply([Add(entry(number))])
        inspection = ledger.inspection()
    assert done == []
    assert inspection.gaps == inspection.verdict.could_change
    assert inspection.coverage["mid-rail", "left"].looked
    assert inspection.verdict.drive == "not-enough-seen"
    assert done == ["cover", "judge"]


def test_an_inspection_stays_what_it_was(ledger: Ledger) -> None:
    """What was handed over is looked at later, on another thread: what is said meanwhile is not in it."""
    before = ledger.inspection()
    ledger.apply([Add(entry(9_000)), Amend("e2.1", {"side": "right"}, "correction")])
    after = ledger.inspection()
    assert len(after.findings) == len(before.findings) + 1
    assert before.findings[0].entry.slots["side"] == "left"
    assert after.findings[0].entry.slots["side"] == "right"
    assert before != after


def test_a_late_inspection_is_like_any_other(ledger: Ledger) -> None:
    """It equals one whose parts were there from the start, and has no other parts."""
    late = ledger.inspection()
    parts = (late.findings, late.coverage, late.gaps, late.verdict, late.lost)
    assert ledger.inspection() == Inspection(*parts)
    assert repr(ledger.inspection()) == repr(Inspection(*parts))
    assert not hasattr(late, "nothing")
