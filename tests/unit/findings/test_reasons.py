"""The reasons of a verdict: plain sentences that name places the way a person would."""

from __future__ import annotations

import re
from collections.abc import Callable
from typing import Any

import pytest

from voicelog.domain.entry import Inspection
from voicelog.domain.grade import RuleSet, Verdict

Inspect = Callable[..., Inspection]
Judge = Callable[..., Verdict]


def f(zone: str, condition: str, side: str = "", **slots: Any) -> dict[str, Any]:
    """Slots of a finding."""
    return {"zone": zone, "condition": condition, **({"side": side} if side else {}), **slots}


@pytest.mark.parametrize(
    ("finding", "reason"),
    [
        (
            f("mid-rail", "hole", "left", surround="firm"),
            "Repairable, cut back to solid metal and weld in a patch: left mid rail, hole",
        ),
        (
            f("mid-rail", "hole", "left"),
            "Repairable if solid metal is found around it: left mid rail, hole",
        ),
        (
            f("rear-cross-member", "scale", certainty="tentative"),
            "Repair or routine replacement: rear cross member, scale, said with a hedge",
        ),
        (f("brake-line", "hole"), "Repair needed: brake line, hole"),
        (
            f("crush-section", "hole", "left", surround="firm"),
            "Repairable by renewing the section, which no patch may stiffen: left crush section, hole",
        ),
        (
            f("control-arm-mount", "hole", "right", face="interior", surround="none"),
            "No solid metal left to weld to, the part has to be replaced: "
            "right control arm mount, inside, hole",
        ),
    ],
)
def test_reasons_name_the_place_the_way_a_person_would(
    finding: dict[str, Any], reason: str, verdict: Judge
) -> None:
    """In a sentence that ends with the entry's id."""
    assert any(
        re.fullmatch(rf"{re.escape(reason)} \(e\d+\.1\)", told) for told in verdict(finding).because
    )


def test_both_rotten_rails_name_both_entries(inspect: Inspect, make: Any) -> None:
    """One sentence for the station."""
    left, right = make(**f("rear-rail", "hole", "left")), make(**f("rear-rail", "hole", "right"))
    because = inspect(left, right).verdict.because
    station = "Structural specialist or replacement: rear rail, rotten on both sides"
    assert f"{station} ({left.id}, {right.id})" in because
    assert not any("Repairable" in reason for reason in because)  # no patch beside a lost frame


def test_one_entry_for_both_sides_is_told_once(inspect: Inspect, make: Any) -> None:
    """And so is a rail without solid metal, whatever else could be said of its hole."""
    both = make(**f("rear-rail", "hole", "both"))
    bare = make(**f("mid-rail", "hole", "left", surround="none"))
    because = inspect(both, bare).verdict.because
    start = "Structural specialist or replacement"
    assert [r for r in because if r.startswith(start)] == [
        f"{start}: left mid rail, hole, no solid metal left ({bare.id})",
        f"{start}: rear rail, rotten on both sides ({both.id})",
    ]
    assert not any("weld" in reason for reason in because)


def test_places_in_words(inspect: Inspect, make: Any) -> None:
    """Both sides, no side, an ordinal, a doubtful one, no place at all."""
    made = [
        make(**f("shock-mount", "hole", "both")),
        make(**f("shock-mount", "hole")),
        make(**f("shock-mount", "hole", "left", ordinal=2, doubts=("noisy",))),
        make(condition="crack"),
        make(**f("somewhere-odd", "crack")),
        make(**f("tow-hitch", "crack", "centre")),
    ]
    said = [r.removeprefix("Do not drive: ") for r in inspect(*made).verdict.because[:6]]
    assert said == [
        f"shock mount, both sides, hole ({made[0].id})",
        f"shock mount, side not said, hole ({made[1].id})",
        f"left shock mount number 2, hole, doubtful: listen again ({made[2].id})",
        f"a place nobody named, crack ({made[3].id})",
        f"somewhere odd, crack ({made[4].id})",
        f"tow hitch, in the centre, crack ({made[5].id})",
    ]


def test_nothing_is_certified(rules: RuleSet, verdict: Judge, inspect: Inspect, make: Any) -> None:
    """The words a report must not use stand in no rule and in no reason."""
    reasons = [
        *verdict().because,
        *verdict(f("mid-rail", "hole", "both")).because,
        *inspect(make(zone="sill", condition="scale")).verdict.because,
        *(text for rule in rules.rules for text in (rule.text, rule.caution)),
        *rules.cautions,
    ]
    forbidden = re.compile(r"\b(safe|passed|pass|roadworthy|certified|price|cost)\b", re.IGNORECASE)
    assert [reason for reason in reasons if forbidden.search(reason)] == []
