"""The verdict: drive, work, tier, and the reasons."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import Any

import pytest

from voicelog.domain.entry import Add, Entry, Finding, Inspection, Kind
from voicelog.domain.fact import Fact
from voicelog.domain.grade import RuleSet, Verdict
from voicelog.domain.zone import Cavity, Rails, Role, ZoneMap
from voicelog.findings.coverage import cover, places
from voicelog.findings.drive import undecided, unseen
from voicelog.findings.ledger import Ledger
from voicelog.findings.tasks import STRUCTURE
from voicelog.findings.what_if.rejudging import Rejudging

Inspect = Callable[..., Inspection]
Thorough = Callable[..., list[Entry]]


def f(zone: str, condition: str, side: str = "", **slots: Any) -> dict[str, Any]:
    """Slots of a finding."""
    return {"zone": zone, "condition": condition, **({"side": side} if side else {}), **slots}


Judge = Callable[..., Verdict]


def test_sound(verdict: Judge) -> None:
    """Everything probed, every inside seen, nothing but marks that were probed firm."""
    told = verdict(f("mid-rail", "surface-rust", "left", probe="firm"))
    assert (told.drive, told.work, told.tier) == (
        "no-danger-found-where-examined",
        "none",
        "sound",
    )
    assert told.could_change == ()
    assert any("every hidden cavity was seen" in reason for reason in told.because)


@pytest.mark.parametrize("left_out", ["shock-mount", "kick-up", "mid-rail"])
def test_not_sound_while_structure_is_unseen(
    left_out: str, inspect: Inspect, thorough: Thorough
) -> None:
    """One place of structure left out is enough; it is fair, and provisional."""
    told = inspect(*thorough(without=(left_out,))).verdict
    assert told.tier == "fair"
    assert any(reason.startswith("Provisional") for reason in told.because)
    assert {gap.zone for gap in told.could_change} == {left_out}


def test_sound_does_not_hang_on_a_bracket(inspect: Inspect, thorough: Thorough) -> None:
    """An attached part nobody looked at leaves the frame sound, but provisional."""
    told = inspect(*thorough(without=("spare-carrier",))).verdict
    assert told.tier == "sound"
    assert any(reason.startswith("Provisional") for reason in told.because)


def test_not_sound_when_a_critical_mounting_was_only_looked_at(
    inspect: Inspect, thorough: Thorough, make: Any
) -> None:
    """It says no danger was found, and no more than that."""
    entries = thorough(without=("tow-hitch",))
    told = inspect(*entries, make(Kind.CLEAR, zone="tow-hitch")).verdict
    assert (told.drive, told.tier) == ("no-danger-found-where-examined", "fair")


def test_not_sound_over_rust_nobody_probed(verdict: Judge) -> None:
    """Unproven marks on structure may hide more."""
    assert verdict(f("mid-rail", "surface-rust", "left")).tier == "fair"


@pytest.mark.parametrize(
    ("finding", "start"),
    [
        (f("shock-mount", "hole", "right"), "Do not drive: right shock mount, hole"),
        (f("sill", "surface-rust", "left", spoken_grade="unsafe"), "Do not drive, as the"),
        (f("shock-mount", "crack", "left", certainty="tentative"), "Do not drive"),
        (f("brake-line", "pitting"), "No driving until it has been assessed: brake line"),
        (f("fuel-line", "scale", spoken_grade="cosmetic"), "No driving until it has been"),
        (f("floor-pan", "hole", "left"), "No driving with people aboard"),
        (f("bulkhead", "surface-rust", probe="through"), "No driving with people aboard"),
    ],
)
def test_do_not_drive(finding: dict[str, Any], start: str, verdict: Judge) -> None:
    """Anything unsafe, a line eaten into, a floor or bulkhead open to exhaust."""
    told = verdict(finding)
    assert told.drive == "do-not-drive"
    assert told.because[0].startswith(start)


@pytest.mark.parametrize(
    "finding",
    [
        f("mid-rail", "hole", "left", surround="firm", mount_distance_mm=500),
        f("floor-pan", "scale", "left"),
        f("brake-line", "surface-rust"),
        f("sill", "hole", "left"),
    ],
)
def test_repair_alone_does_not_forbid_driving(finding: dict[str, Any], verdict: Judge) -> None:
    """Where all was examined, the answer stays that no danger was found there."""
    assert verdict(finding).drive == "no-danger-found-where-examined"


@pytest.mark.parametrize(
    "finding",
    [f("mid-rail", "hole", "left"), f("kick-up", "scale", "left", probe="soft"), f("", "hole")],
)
def test_rot_whose_distance_nobody_said_is_not_enough(
    finding: dict[str, Any], inspect: Inspect, thorough: Thorough, make: Any
) -> None:
    """In a main member, or at a place nobody knows, it may be at a mounting."""
    slots = {name: value for name, value in finding.items() if value}
    lost = make(**slots)
    told = inspect(*thorough(), lost).verdict
    assert told.drive == "not-enough-seen"
    assert told.because[0].startswith("Not enough seen: ")
    assert told.because[0].endswith(f" was not said ({lost.id})") or "zone" not in slots
    far = inspect(*thorough(), make(**slots, mount_distance_mm=500)).verdict
    assert far.drive == "no-danger-found-where-examined"


@pytest.mark.parametrize(
    "findings",
    [
        [f("mid-rail", "hole", side, mount_distance_mm=900) for side in ("left", "right")],
        [f("mid-rail", "hole", "both", mount_distance_mm=900)],
        [f("mid-rail", "hole", "left", mount_distance_mm=900, surround="none")],
    ],
)
def test_a_main_member_beyond_repair_is_not_driven(
    findings: list[dict[str, Any]], verdict: Judge
) -> None:
    """Though each finding by itself is a repair."""
    told = verdict(*findings)
    assert (told.drive, told.work) == ("do-not-drive", "replacement-or-specialist")
    assert told.because[0].startswith("Do not drive: ")


def test_danger_counts_before_what_was_not_seen(inspect: Inspect, make: Any) -> None:
    """One unsafe finding is enough, however little was looked at."""
    told = inspect(make(**f("shock-mount", "hole", "right"))).verdict
    assert told.drive == "do-not-drive"


def test_not_enough_seen(inspect: Inspect, make: Any) -> None:
    """Critical mountings not looked at, cavities not seen inside: said with their numbers."""
    told = inspect(make(**f("mid-rail", "surface-rust", "left"))).verdict
    assert told.drive == "not-enough-seen"
    assert told.because[0] == "Not enough seen: 16 of 16 critical mountings not looked at"
    assert told.because[1] == "Not enough seen: 6 of 6 hidden cavities not seen inside"


@pytest.mark.parametrize("side", ["left", "right"])
def test_one_side_is_not_both(side: str, inspect: Inspect, thorough: Thorough, make: Any) -> None:
    """A pair is looked at when both sides are."""
    entries = thorough(without=("shock-mount",))
    told = inspect(*entries, make(Kind.CLEAR, zone="shock-mount", side=side)).verdict
    assert told.drive == "not-enough-seen"
    assert told.because[0] == "Not enough seen: 1 of 16 critical mountings not looked at"


def test_boxed_rails_have_to_be_seen_inside(inspect: Inspect, thorough: Thorough) -> None:
    """What satisfies open rails does not satisfy boxed ones; of mixed ones it is asked."""
    boxed = inspect(*thorough(), rails=Rails.BOXED).verdict
    assert (boxed.drive, boxed.tier) == ("not-enough-seen", "fair")
    mixed = inspect(*thorough(), rails=Rails.MIXED).verdict
    assert mixed.because[-1].startswith("Are the rails or cross members boxed?")


def test_a_fault_without_a_place_is_not_enough(
    inspect: Inspect, thorough: Thorough, make: Any
) -> None:
    """Somebody named a hole and nobody knows where."""
    lost = make(Kind.REMARK, condition="hole", unplaced=True, doubts=("no place",))
    told = inspect(*thorough(), lost).verdict
    assert (told.drive, told.tier) == ("not-enough-seen", "fair")
    assert told.because[0].endswith(f"({lost.id})")


@pytest.mark.parametrize(
    ("findings", "work", "tier"),
    [
        ([], "none", "sound"),
        ([f("mid-rail", "staining", "left", probe="firm")], "none", "sound"),
        ([f("brake-line", "surface-rust")], "surface", "fair"),
        ([f("front-rail", "peeling-coating", "left")], "surface", "fair"),
        ([f("mid-rail", "hole", "left", surround="firm")], "local", "repairable"),
        ([f("rear-cross-member", "hole", surround="none")], "local", "repairable"),
        ([f("outrigger", "hole", "both", surround="none")], "local", "repairable"),
        ([f("shock-mount", "hole", "left", surround="none")], "major", "repairable"),
        ([f("sill", "hole", "left", surround="none")], "local", "repairable"),
        (
            [f("mid-rail", "hole", "left"), f("rear-rail", "hole", "right")],
            "local",
            "repairable",
        ),
        (
            [f("outrigger", "hole", "both"), f("shock-mount", "hole", "both")],
            "major",
            "repairable",
        ),
        ([f("sill", "hole", "both"), f("floor-pan", "hole", "both")], "local", "repairable"),
        ([f("mid-rail", "deformation", "left")], "replacement-or-specialist", "beyond-repair"),
        ([f("frame-horn", "deformation", "left")], "local", "repairable"),
        (
            [f("mid-rail", "deformation", "left", text="small dent")],
            "surface",
            "fair",
        ),
        ([f("mid-rail", "hole", "both")], "replacement-or-specialist", "beyond-repair"),
        (
            [f("rear-rail", "hole", "left"), f("rear-rail", "scale", "right", probe="soft")],
            "replacement-or-specialist",
            "beyond-repair",
        ),
        (
            [f("rear-rail", "hole", "left"), f("rear-rail", "scale", "right")],
            "local",
            "repairable",
        ),
        (
            [f("front-rail", "hole", "left", surround="none")],
            "replacement-or-specialist",
            "beyond-repair",
        ),
        ([f("rear-cross-member", "hole", "both")], "local", "repairable"),
    ],
)
def test_work_and_tier(
    findings: list[dict[str, Any]], work: str, tier: str, verdict: Judge
) -> None:
    """From marks to replacement; cross members and outriggers are routine."""
    told = verdict(*findings)
    assert (told.work, told.tier) == (work, tier)


def test_the_worse_of_both_grades_decides(verdict: Judge) -> None:
    """A repair called cosmetic counts as repair; marks called repair as well."""
    assert verdict(f("mid-rail", "hole", "left", spoken_grade="cosmetic")).work == "local"
    assert verdict(f("sill", "staining", "left", spoken_grade="repair")).work == "local"


def test_a_dent_called_repair_is_no_kink(verdict: Judge) -> None:
    """Only a rail so far out of shape that it is unsafe is beyond repair."""
    told = verdict(f("mid-rail", "deformation", "left", text="small dent", spoken_grade="repair"))
    assert (told.work, told.tier) == ("local", "repairable")


def test_a_cavity_outside_structure_keeps_a_frame_from_being_sound(
    zone_map: ZoneMap, rules: RuleSet, thorough: Thorough
) -> None:
    """On a map whose sill is a box, its inside has to be seen too."""
    boxed_sill = replace(zone_map["sill"], cavity=Cavity.ALWAYS)
    own_map = replace(zone_map, zones={**zone_map.zones, "sill": boxed_sill})
    ledger = Ledger(own_map, rules, Rails.OPEN)
    ledger.apply(Add(entry) for entry in thorough())
    told = ledger.inspection().verdict
    assert {gap.why for gap in told.could_change} == {"cavity-not-seen"}
    assert told.tier == "fair"


def test_an_empty_inspection_is_called_nothing(inspect: Inspect) -> None:
    """Nobody looked at anything: the tier is unknown, and says how little was seen."""
    told = inspect().verdict
    assert (told.drive, told.work, told.tier) == ("not-enough-seen", "none", "unknown")
    assert told.provisional
    assert any(
        reason.startswith("Too little seen to call the frame: 0 of") for reason in told.because
    )


def structural(zone_map: ZoneMap) -> list[tuple[str, str | None]]:
    """The places whose metal holds the vehicle together."""
    return [place for zone, place in places(zone_map) if zone.role in STRUCTURE]


@pytest.mark.parametrize(("less", "tier"), [(0, "fair"), (1, "unknown")])
def test_half_of_the_structure_has_to_be_looked_at(
    less: int, tier: str, inspect: Inspect, zone_map: ZoneMap, make: Any
) -> None:
    """Exactly half is enough for a tier, one place less is not; panels do not count."""
    there = structural(zone_map)
    looked = there[: -(-len(there) // 2) - less]
    clears = [make(Kind.CLEAR, zone=zone, **({"side": s} if s else {})) for zone, s in looked]
    told = inspect(*clears, make(Kind.CLEAR, zone="sill", side="both")).verdict
    assert told.tier == tier


def test_little_seen_does_not_hide_what_was_found(inspect: Inspect, make: Any) -> None:
    """One hole makes it repairable however little was looked at; marks do not make it fair."""
    assert inspect(make(**f("mid-rail", "hole", "left"))).verdict.tier == "repairable"
    assert inspect(make(**f("mid-rail", "peeling-coating", "left"))).verdict.tier == "unknown"


def test_a_shop_may_ask_for_more(zone_map: ZoneMap, rules: RuleSet, thorough: Thorough) -> None:
    """Its own share, in the limits of its table."""
    entries = thorough(without=("mid-rail",))
    for percent, tier in ((0, "fair"), (50, "fair"), (100, "unknown")):
        own = replace(rules, limits={**rules.limits, "tier_places_percent": percent})
        ledger = Ledger(zone_map, own, Rails.OPEN)
        ledger.apply(Add(entry) for entry in entries)
        assert ledger.inspection().verdict.tier == tier


def test_provisional_while_something_is_open(inspect: Inspect, thorough: Thorough) -> None:
    """And no longer once everything was seen."""
    assert inspect(*thorough(without=("tow-hitch",))).verdict.provisional
    assert not inspect(*thorough()).verdict.provisional


def test_what_lines_are_lost_may_have_been_the_worst(
    zone_map: ZoneMap, rules: RuleSet, thorough: Thorough
) -> None:
    """All seen and probed: the rest calls it sound, and free of danger; with a line lost nobody can."""
    ledger = Ledger(zone_map, rules, Rails.OPEN)
    ledger.take(map(Add, thorough()))
    whole = ledger.inspection().verdict
    assert (whole.drive, whole.tier) == ("no-danger-found-where-examined", "sound")
    ledger.miss([Fact(7, "2026-01-05T08:00:00Z", 0.0, "0" * 64, "left-out", {})])
    inspection = ledger.inspection()
    told = inspection.verdict
    assert (told.drive, told.work, told.tier) == ("not-enough-seen", whole.work, "unknown")
    assert "line 7 of the damaged log could not be recovered in full" in told.because[0]
    assert not any("hidden cavity was seen" in reason for reason in told.because)
    assert Rejudging(inspection, zone_map, rules, Rails.OPEN).after(()) == (
        told.drive, told.work, told.tier
    )  # fmt: skip


def test_what_is_known_to_be_dangerous_stays_so(
    zone_map: ZoneMap, rules: RuleSet, make: Callable[..., Entry]
) -> None:
    """Lost lines soften nothing."""
    ledger = Ledger(zone_map, rules, Rails.OPEN)
    ledger.take([Add(make(zone="steering-box-mount", condition="crack"))])
    before = ledger.inspection().verdict
    ledger.miss([Fact(7, "2026-01-05T08:00:00Z", 0.0, "0" * 64, "left-out", {})])
    assert before.drive == "do-not-drive"
    assert ledger.inspection().verdict == before


@pytest.mark.parametrize(
    ("zone", "role", "asked"),
    [
        ("mid-rail", Role.LOAD_PATH, True),
        ("sill", Role.LOAD_PATH, True),
        ("sill", Role.ATTACHED, False),
        ("outrigger", Role.LOAD_PATH, False),
    ],
)
def test_the_distance_is_asked_for_where_it_decides(
    zone: str, role: Role, asked: bool, zone_map: ZoneMap, make: Any
) -> None:
    """In a main member, and in a sill that carries load; nowhere else."""
    places_there = {**zone_map.zones, zone: replace(zone_map[zone], role=role)}
    told = undecided(
        Finding(make(zone=zone, condition="hole")), replace(zone_map, zones=places_there)
    )
    assert (told == "its distance from the nearest mounting was not said") is asked
    assert (told == "") is not asked


def test_a_fault_is_told_with_its_place_where_it_has_one(
    zone_map: ZoneMap, thorough: Thorough, make: Any
) -> None:
    """Nobody hears of an unknown place in front of a fault without one."""
    examined = cover([Finding(entry) for entry in thorough()], zone_map, Rails.OPEN)
    lost = make(condition="hole")
    placed = make(zone="mid-rail", side="left", condition="soft-spot")
    told = unseen([Finding(lost), Finding(placed)], examined, zone_map, Rails.OPEN)
    assert list(told) == [
        f"Not enough seen: hole, its place is not known ({lost.id})",
        "Not enough seen: left mid rail, soft spot, its distance from the nearest mounting was not"
        f" said ({placed.id})",
    ]


def test_the_tier_says_why_it_is_fair_and_only_then(verdict: Judge) -> None:
    """A frame that needs repair gives its reasons by the work."""
    surface = "Nothing that was found needs more than its surface treated"
    assert surface in verdict(f("brake-line", "surface-rust")).because
    told = verdict(f("sill", "hole", "left", surround="none"))
    assert told.tier == "repairable"
    assert not any(reason.startswith("Nothing") for reason in told.because)


def test_fair_says_whether_anything_was_found_at_all(
    inspect: Inspect, thorough: Thorough, make: Any
) -> None:
    """A frame of which only clears were said, and one with marks, give different reasons."""
    nothing = "Nothing was found, and not enough was seen and probed to say more"
    treated = "Nothing that was found needs more than its surface treated"
    entries = thorough(without=("mid-rail",))
    clears = inspect(*entries).verdict
    assert (clears.tier, nothing in clears.because, treated in clears.because) == (
        "fair", True, False
    )  # fmt: skip
    marks = inspect(*entries, make(**f("mid-rail", "peeling-coating", "left"))).verdict
    assert (marks.tier, nothing in marks.because, treated in marks.because) == ("fair", False, True)


def test_what_could_change_it_is_counted_by_its_kind(
    inspect: Inspect, thorough: Thorough, make: Any
) -> None:
    """Each kind with its own number, in a fixed order; what does not occur is not named."""
    rust = make(**f("mid-rail", "surface-rust", "left"))
    look = make(Kind.CLEAR, zone="tow-hitch")
    told = inspect(*thorough(without=("sill", "tow-hitch")), look, rust).verdict
    assert [reason for reason in told.because if reason.startswith("Provisional")] == [
        "Provisional, because places could still change it: 2 not looked at, "
        "1 looked at but not probed, 1 with metal that was not reached"
    ]


@pytest.mark.parametrize("rails", [Rails.OPEN, Rails.BOXED])
def test_how_the_rails_are_made_is_asked_only_while_nobody_said(
    rails: Rails, inspect: Inspect, thorough: Thorough
) -> None:
    """Where it is known, the answer is known too."""
    told = inspect(*thorough(), rails=rails).verdict
    assert not any(reason.startswith("Are the rails") for reason in told.because)
