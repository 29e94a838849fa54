"""The work list: what is on it, in which order, with which first step, and what it never says."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import Any

import pytest

from voicelog.domain.advice import URGENCIES, WorkItem
from voicelog.domain.entry import Entry, Inspection, Kind
from voicelog.domain.grade import RuleSet, WorkRule
from voicelog.domain.zone import Rails, Role, ZoneMap
from voicelog.findings.work_list import HALT, alike, work_list

Make = Callable[..., Entry]
Listed = Callable[..., tuple[WorkItem, ...]]


@pytest.fixture
def listed(inspect: Callable[..., Inspection], zone_map: ZoneMap, rules: RuleSet) -> Listed:
    """The work list of some entries; ``rules`` and ``rails`` can be others."""

    def work_of(*entries: Entry, table: RuleSet = rules, rails: Rails = Rails.OPEN) -> Any:
        return work_list(inspect(*entries, rails=rails), zone_map, table, rails)

    return work_of


@pytest.fixture
def item_of(listed: Listed, make: Make) -> Callable[..., WorkItem]:
    """The item of one finding with these slots."""

    def item(text: str = "", **slots: Any) -> WorkItem:
        entry = make(text=text, **slots)
        (found,) = [one for one in listed(entry) if one.entry == entry.id]
        return found

    return item


def test_the_most_urgent_comes_first_and_critical_mountings_before_others(
    listed: Listed, make: Make, zone_map: ZoneMap
) -> None:
    """Before it is moved, repairs, treatment, looking; within each, mountings, then along the map."""
    items = listed(
        make(zone="sill", side="left", condition="blistering"),
        make(zone="wheel-arch", side="left", condition="hole"),
        make(zone="mid-rail", side="left", condition="crack"),
        make(zone="shock-mount", side="left", condition="worn-hole"),
        make(zone="tow-hitch", condition="blistering"),
        make(zone="shock-mount", side="right", condition="crack"),
        make(zone="front-rail", side="left", condition="hole"),
    )
    told = [(one.urgency, one.zone) for one in items if one.entry]
    assert told == [
        ("now", "shock-mount"), ("now", "mid-rail"),
        ("repair", "shock-mount"), ("repair", "front-rail"), ("repair", "wheel-arch"),
        ("treat", "tow-hitch"), ("treat", "sill"),
    ]  # fmt: skip
    ranks = [URGENCIES.index(one.urgency) for one in items]
    assert ranks == sorted(ranks)
    looks = [zone_map[one.zone].role is Role.CRITICAL for one in items if one.urgency == "look"]
    assert looks == sorted(looks, reverse=True)


def test_a_fault_whose_place_nobody_knows_may_be_at_a_mounting(listed: Listed, make: Make) -> None:
    """So it stands with the mountings, before what is known to lie elsewhere."""
    first, second, *_ = listed(
        make(zone="sill", side="left", condition="hole"), make(condition="hole")
    )
    assert (first.zone, first.place) == ("unplaced", "a place nobody named")
    assert second.zone == "sill"


def test_a_worse_word_of_the_inspector_counts(item_of: Callable[..., WorkItem]) -> None:
    """And a milder one does not: the list goes by the worse of both."""
    worse = item_of(
        zone="sill", side="left", condition="surface-rust", probe="firm", spoken_grade="unsafe"
    )
    assert (worse.urgency, worse.cautions[0]) == ("now", HALT)
    milder = item_of(zone="sill", side="left", condition="hole", spoken_grade="cosmetic")
    assert milder.urgency == "repair"


def test_cosmetic_marks_on_metal_that_was_reached_are_left_out(listed: Listed, make: Make) -> None:
    """Not reached, they are to be looked at; withdrawn entries and clears ask for nothing."""
    firm = make(zone="mid-rail", side="left", condition="surface-rust", probe="firm")
    seen = make(zone="mid-rail", side="right", condition="surface-rust")
    clear = make(Kind.CLEAR, zone="outrigger", side="left", probe="firm")
    told = {one.entry: one.urgency for one in listed(firm, seen, clear) if one.entry}
    assert told == {seen.id: "look"}


@pytest.mark.parametrize(
    ("condition", "first"),
    [
        ("scale", "Clean it to bright metal, and measure"),
        ("recoated", "Probe through the coating"),
        ("blistering", "Scrape the coating back"),
        ("rust-weep", "Open the drain"),
        ("debris", "Wash or scrape the mud off"),
        ("old-repair", "See the edges and the back"),
        ("filler", "Dig the filler out"),
        ("thinning", "Measure again on bare metal"),
        ("surface-rust", "Scrape it at its worst spot and probe"),
    ],
)
def test_what_was_not_reached_is_reached_first(
    condition: str, first: str, item_of: Callable[..., WorkItem]
) -> None:
    """The first step of an unproven finding is the one that proves it."""
    item = item_of(zone="mid-rail", side="left", condition=condition)
    assert item.what.endswith("metal not reached")
    assert item.steps[0].startswith(first)
    assert len(set(item.steps)) == len(item.steps)


def test_what_was_reached_is_not_proven_again(item_of: Callable[..., WorkItem]) -> None:
    """A hole needs no proof; blistering that was scraped open needs none either."""
    opened = item_of(zone="mid-rail", side="left", condition="blistering", method="scraped")
    closed = item_of(zone="mid-rail", side="left", condition="blistering")
    assert "metal not reached" not in opened.what
    assert set(opened.steps) <= set(closed.steps)


def test_a_doubtful_entry_is_settled_before_anything_is_done(listed: Listed, make: Make) -> None:
    """It may have been another word or place; a doubtful clear is an item as well."""
    hole = make(zone="sill", side="left", condition="hole", doubts=("sounds like whole",))
    clear = make(Kind.CLEAR, zone="tow-hitch", doubts=("sounds like toe board",))
    items = {one.entry: one for one in listed(hole, clear) if one.entry}
    assert items[hole.id].steps[0].startswith("Settle what was meant")
    assert len(items[hole.id].steps) > 1
    assert items[clear.id].steps[0].startswith("Settle what was meant")
    assert items[clear.id].what == "clear, maybe misheard"


def test_a_hedge_asks_for_a_second_look(item_of: Callable[..., WorkItem]) -> None:
    """Graded as if it were certain, and looked at again before it is worked on."""
    item = item_of(zone="mid-rail", side="left", condition="hole", certainty="tentative")
    assert item.steps[0] == "Look again, to be certain: it was said with a hedge."


def test_a_fault_said_without_its_place_is_not_lost(listed: Listed, make: Make) -> None:
    """The remark that it is waits to be settled."""
    lost = make(Kind.REMARK, condition="hole", unplaced=True)
    (item,) = [one for one in listed(lost) if one.entry]
    assert (item.urgency, item.zone) == ("look", "unplaced")
    assert item.what == "hole, its place was not said"


def test_whatever_comes_first_says_not_to_move_it(
    listed: Listed, make: Make, rules: RuleSet
) -> None:
    """Once, in the words of the rule where one says so, for every item before it is moved."""
    entries = [
        make(zone="fuel-tank", condition="hole"),
        make(zone="brake-line", condition="leak"),
        make(zone="crush-section", side="left", condition="crack"),
        make(zone="sill", side="left", condition="dent", spoken_grade="unsafe"),
    ]
    items = [one for one in listed(*entries) if one.urgency == "now"]
    assert len(items) == len(entries)
    for item in items:
        assert sum("Do not drive or tow" in caution for caution in item.cautions) == 1


@pytest.mark.parametrize(
    ("slots", "wanted"),
    [
        ({"zone": "mid-rail", "condition": "hole", "surround": "firm"},
         ("Structural welding", "Before heat or sparks", "Airbags and belt tensioners")),
        ({"zone": "brake-line", "condition": "surface-rust"}, ("Do not pick or scrape at this line",)),
        ({"zone": "brake-line", "condition": "leak"}, ("Do not pick", "Brake and fuel systems")),
        ({"zone": "fuel-tank", "condition": "surface-rust", "spoken_grade": "treat"},
         ("Do not pick or scrape at the tank", "No heat, no sparks")),
        ({"zone": "floor-pan", "condition": "hole"}, ("Keep exhaust out", "Before heat or sparks")),
        ({"zone": "shock-mount", "condition": "seized-fixing"}, ("Hold up the part", "No heat beside")),
        ({"zone": "mid-rail", "condition": "deformation"}, ("Do not heat or hammer",)),
        ({"zone": "seat-belt-anchor", "condition": "hole"}, ("Structural welding", "Airbags")),
    ],
)  # fmt: skip
def test_the_usual_cautions_stand_with_the_work(
    slots: dict[str, Any], wanted: tuple[str, ...], item_of: Callable[..., WorkItem]
) -> None:
    """Each once: those of the grading rules and those of the work are not told twice."""
    item = item_of(side="left", **slots)
    for start in wanted:
        assert sum(caution.startswith(start) for caution in item.cautions) == 1, item.cautions


@pytest.mark.parametrize(
    ("surround", "told"),
    [
        ({"surround": "firm"}, "Fit and weld in a plate or section of the same thickness"),
        ({}, "Probe outwards from it until the metal is firm all round"),
        ({"surround": "none"}, "there is no solid metal to weld to"),
    ],
)
@pytest.mark.parametrize(
    "rot",
    [{"condition": "hole"}, {"condition": "soft-spot"}, {"condition": "scale", "probe": "through"},
     {"condition": "pitting", "loss_percent": 60.0}],
)  # fmt: skip
def test_rot_goes_by_the_metal_around_it(
    rot: dict[str, Any],
    surround: dict[str, Any],
    told: str,
    item_of: Callable[..., WorkItem],
) -> None:
    """Firm: cut back and weld in steel; not said: probe around it; none: another member."""
    item = item_of(zone="mid-rail", side="left", **rot, **surround)
    assert any(told in step for step in item.steps)


def test_a_line_is_never_scraped_probed_or_ground(
    item_of: Callable[..., WorkItem], zone_map: ZoneMap
) -> None:
    """Whatever is found on it, and unproven or not."""
    from voicelog.domain.slot import CONDITIONS

    lines = [zone.id for zone in zone_map.zones.values() if zone.role is Role.FLUID_LINE]
    for zone in [*lines, "fuel-tank"]:
        for condition in CONDITIONS:
            item = item_of(zone=zone, condition=condition, spoken_grade="treat")
            steps = " ".join(item.steps).lower()
            assert not any(word in steps for word in ("scrape", "grind", "probe", "weld")), item


@pytest.mark.parametrize(
    ("slots", "told"),
    [
        ({"zone": "brake-line", "condition": "scale"}, "No driving until somebody qualified"),
        (
            {"zone": "fuel-line", "condition": "missing-part"},
            "No driving until it has been assessed.",
        ),
        ({"zone": "floor-pan", "condition": "hole"}, "Keep exhaust out: no driving with people"),
        ({"zone": "mid-rail", "condition": "hole", "surround": "none"}, HALT),
    ],
)
def test_whatever_forbids_driving_comes_first(
    slots: dict[str, Any], told: str, item_of: Callable[..., WorkItem]
) -> None:
    """The list never puts off what the verdict forbids driving for, and says so once."""
    item = item_of(side="left", **slots)
    assert item.urgency == "now"
    assert item.cautions[0].startswith(told)
    orders = [c for c in item.cautions if "no driving" in c.lower() or c.startswith(HALT[:-1])]
    assert len(orders) == 1


def test_nothing_is_patched_while_the_frame_may_be_lost(listed: Listed, make: Make) -> None:
    """Both rails rotten at one station: each alone could be plated, together they cannot."""
    left, right = (
        make(zone="mid-rail", side=side, condition="hole", surround="firm", mount_distance_mm=900)
        for side in ("left", "right")
    )
    for item in [one for one in listed(left, right) if one.entry]:
        assert (item.urgency, item.cautions[0]) == ("now", HALT)
        assert item.steps[0].startswith("Repair nothing here before a structural specialist")
        assert item.steps[0].endswith(f"rotten on both sides ({left.id}, {right.id}).")
    (alone,) = [one for one in listed(left) if one.entry]
    assert alone.urgency == "repair"
    assert "specialist" not in alone.steps[0]


def test_a_belt_anchor_is_never_ground(item_of: Callable[..., WorkItem]) -> None:
    """Sparks and acid are no friends of belts."""
    from voicelog.domain.slot import CONDITIONS

    for condition in CONDITIONS:
        item = item_of(
            zone="seat-belt-anchor", side="left", condition=condition, spoken_grade="treat"
        )
        steps = " ".join(item.steps).lower()
        assert "grind it" not in steps
        assert "or grind" not in steps.replace("do not grind or drill", ""), condition


def test_a_crush_section_is_never_plated(item_of: Callable[..., WorkItem]) -> None:
    """Whatever metal is left around the rot: a plate changes how it folds."""
    for surround in ({}, {"surround": "firm"}, {"surround": "none"}):
        item = item_of(zone="crush-section", side="left", condition="hole", **surround)
        assert item.steps[0].startswith("Plate nothing here")


def test_each_open_place_is_told_once(listed: Listed, make: Make) -> None:
    """Left and right together where they are open alike, all that is open there in one item."""
    items = listed(
        make(Kind.CLEAR, zone="kick-up", side="left"),
        make(Kind.NOT_SEEN, zone="kick-up", side="left", face="interior", reason="no borescope"),
    )
    kick_ups = [one for one in items if one.zone == "kick-up"]
    assert [(one.side, one.what) for one in kick_ups] == [
        ("left", "nobody looked inside: no borescope"),
        ("right", "nobody looked at it; nobody looked inside"),
    ]
    rails = [one for one in items if one.zone == "mid-rail"]
    assert [(one.side, one.place) for one in rails] == [("both", "mid rail, both sides")]
    assert len({(one.zone, one.side) for one in items}) == len(items)


def test_an_empty_log_gives_an_item_a_zone_at_most(listed: Listed, zone_map: ZoneMap) -> None:
    """And a handful of groups: what is open alike and needs the same steps is told together."""
    items = listed()
    assert [one.zone for one in items] == sorted(
        zone_map.zones, key=lambda name: zone_map[name].role is not Role.CRITICAL
    )
    groups = alike(items)
    assert sum(map(len, groups)) == len(items)
    assert len(groups) < 12


def test_findings_are_never_told_together(listed: Listed, make: Make) -> None:
    """Two alike have two numbers in a report."""
    items = listed(
        *(make(zone="mid-rail", side=side, condition="hole") for side in ("left", "right"))
    )
    assert [len(group) for group in alike(items) if group[0].entry] == [1, 1]


def test_a_cavity_that_was_seen_still_needs_its_photo(listed: Listed, make: Make) -> None:
    """Asked for where the map does, and where the rails are boxed; not once it was claimed."""
    seen = [
        make(Kind.CLEAR, zone=zone, side="both", probe="firm", face="interior")
        for zone in ("kick-up", "mid-rail")
    ]
    photo = make(Kind.PHOTO, zone="kick-up", side="left", face="interior")
    lacking = [
        (one.zone, one.side)
        for one in listed(*seen, photo, rails=Rails.BOXED)
        if one.what == "no photo was claimed"
    ]
    assert lacking == [("mid-rail", "both"), ("kick-up", "right")]
    open_rails = listed(*seen, photo, rails=Rails.OPEN)
    assert [one.zone for one in open_rails if "photo" in one.what] == ["kick-up"]


def test_nothing_is_left_after_a_thorough_look(
    listed: Listed, thorough: Callable[..., list[Entry]], make: Make
) -> None:
    """No finding, no open place, every photo claimed: an empty list."""
    photos = [
        make(Kind.PHOTO, zone=zone, side="both", face="interior")
        for zone in ("control-arm-mount", "kick-up", "crush-section")
    ]
    assert listed(*thorough(), *photos) == ()


def test_older_tables_give_a_plain_sentence(listed: Listed, make: Make, rules: RuleSet) -> None:
    """A log whose own rules tell of no work still has its list, in the same order."""
    bare = replace(rules, work=(), work_cautions=())
    entries = [
        make(zone="mid-rail", side="left", condition="crack"),
        make(zone="mid-rail", side="left", condition="scale"),
    ]
    crack, scale = [one for one in listed(*entries, table=bare) if one.entry]
    assert crack.steps == (
        "Have it assessed and repaired by somebody qualified before the vehicle is moved.",
    )
    assert scale.steps[-1] == "Have it repaired by somebody qualified."
    assert len(scale.steps) == 2
    assert all(one.source == "common practice, no source" for one in (crack, scale))


def test_a_table_makes_work_sooner_but_never_later(
    listed: Listed, make: Make, rules: RuleSet
) -> None:
    """An urgency in the table puts cosmetic marks on the list, and leaves *unsafe* where it is."""
    own = WorkRule("ours", ("Polish it.",), "ours", {}, urgency="look")
    table = replace(rules, work=(own,))
    mark = make(zone="sill", side="left", condition="surface-rust", probe="firm")
    crack = make(zone="mid-rail", side="left", condition="crack")
    told = {one.entry: one.urgency for one in listed(mark, crack, table=table) if one.entry}
    assert told == {crack.id: "now", mark.id: "look"}
    sooner = replace(rules, work=(replace(own, urgency="repair"),))
    assert {one.urgency for one in listed(mark, table=sooner) if one.entry} == {"repair"}


def test_hostile_text_is_shown_inert(listed: Listed, make: Make, rules: RuleSet) -> None:
    """Landmarks, reasons, zones and the rules of somebody else's log steer no terminal."""
    own = WorkRule("x", ("a\x1b[2Jb",), "s\x07", {}, cautions=("c\u202e",))
    table = replace(rules, work=(own,))
    items = listed(
        make(zone="q\x1b", side="left", condition="hole", landmark="l\x1b"),
        make(Kind.NOT_SEEN, zone="sill", side="left", reason="r\x1b"),
        table=table,
    )
    for item in items:
        texts = (item.place, item.what, item.source, item.zone, *item.steps, *item.cautions)
        assert all(text.isprintable() for text in texts)
