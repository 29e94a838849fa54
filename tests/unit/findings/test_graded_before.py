"""What was graded before is looked up: the same answer, and no more of it kept than fits."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest

from voicelog.domain.entry import Entry
from voicelog.domain.grade import RuleSet
from voicelog.domain.zone import ZoneMap
from voicelog.findings import grading
from voicelog.findings.facts_of import FactFinder
from voicelog.findings.grading import Grader

Make = Callable[..., Entry]


@pytest.fixture
def worked_out(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """The zone of every finding whose facts were worked out, in order."""
    zones: list[str] = []
    facts = FactFinder.facts

    def counted(finder: FactFinder, entry: Entry, words: str) -> Any:
        zones.append(str(entry.slots["zone"]))
        return facts(finder, entry, words)

    monkeypatch.setattr(FactFinder, "facts", counted)
    return zones


def test_as_many_are_kept_as_fit(
    zone_map: ZoneMap,
    rules: RuleSet,
    make: Make,
    worked_out: list[str],
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """With room for two a third one makes room; a log of a hundred thousand takes no more."""
    monkeypatch.setattr(grading, "_KNOWN", 2)
    grader = Grader(zone_map, rules)
    for zone in ("sill", "mid-rail", "sill", "mid-rail", "tow-hitch", "sill"):
        grader.grade(make(zone=zone, condition="hole"))
    assert worked_out == ["sill", "mid-rail", "tow-hitch", "sill"]


@pytest.mark.parametrize(
    "other",
    [
        {"probe": "soft"},
        {"mount_distance_mm": 300.0},
        {"zone": "shock-mount"},
        {"condition": "crack"},
    ],
)
def test_one_slot_more_or_other_is_another_finding(
    other: dict[str, Any], zone_map: ZoneMap, rules: RuleSet, make: Make
) -> None:
    """Graded as by somebody who never saw the first."""
    used, fresh = Grader(zone_map, rules), Grader(zone_map, rules)
    slots = {"zone": "mid-rail", "condition": "hole"}
    used.grade(make(**slots))
    assert used.grade(make(**{**slots, **other})) == fresh.grade(make(**{**slots, **other}))
    assert used.grade(make(**{**slots, **other})) != used.grade(make(**slots))


def test_a_draft_takes_the_entrys_words_unless_it_is_given_others(
    grader: Grader, make: Make
) -> None:
    """None at all, where they no longer describe it."""
    patch = make(zone="mid-rail", condition="old-repair", text="riveted patch")
    assert grader.draft(patch).rules[0] == "failed-repair"
    assert grader.draft(patch, "").rules[0] == "old-repair"
