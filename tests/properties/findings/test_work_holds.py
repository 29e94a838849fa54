"""What holds for the work list of any log, whatever was said."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import replace
from itertools import pairwise
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from voicelog.config.grammar import Grammar
from voicelog.domain.advice import URGENCIES
from voicelog.domain.entry import Add, Entry, Inspection, Kind
from voicelog.domain.grade import Grade
from voicelog.domain.slot import CONDITIONS, PROBES
from voicelog.domain.zone import Rails
from voicelog.findings.drive import DO_NOT_DRIVE
from voicelog.findings.ledger import Ledger
from voicelog.findings.work_list import work_list

ZONES = (
    *("mid-rail", "kick-up", "frame-horn", "outrigger", "shock-mount", "seat-belt-anchor"),
    *("tow-hitch", "tank-strap", "crush-section", "floor-pan", "sill", "brake-line", "fuel-tank"),
)
PROBED = ("firm", None, *PROBES[1:])
DISTANCES = (None, 900.0, 300.0, 0.0)
LOSSES = (0.0, 9.9, 10.0, 15.0, 25.0, 33.3, 100.0)
SURROUNDED = ("firm", None, "none")
SPOKEN = (None, *Grade)

SLOTS = st.fixed_dictionaries(
    {"zone": st.sampled_from(ZONES), "condition": st.sampled_from(CONDITIONS)},
    optional={
        "side": st.sampled_from(("left", "right", "both")),
        "probe": st.sampled_from(PROBES),
        "surround": st.sampled_from(("firm", "none")),
        "loss_percent": st.sampled_from(LOSSES),
        "mount_distance_mm": st.sampled_from(DISTANCES[1:]),
        "spoken_grade": st.sampled_from(tuple(map(str, Grade))),
        "certainty": st.just("tentative"),
    },
)


def finding(slots: dict[str, Any], number: int = 1) -> Entry:
    """A finding with the slots that are not None."""
    known = {name: value for name, value in slots.items() if value is not None}
    return Entry(f"e{number}.1", f"u{number}", "2026-01-05T08:00:00Z", Kind.FINDING, known)


def folded(entries: Iterable[Entry], grammar: Grammar) -> Inspection:
    """All of it."""
    ledger = Ledger(grammar.zone_map, grammar.rules, Rails.OPEN)
    ledger.take(map(Add, entries))
    return ledger.inspection()


def urgencies_of(inspection: Inspection, grammar: Grammar) -> list[str]:
    """How soon each is due; of places too."""
    items = work_list(inspection, grammar.zone_map, grammar.rules, Rails.OPEN)
    return [item.urgency for item in items]


@given(many=st.lists(SLOTS, max_size=5))
@settings(max_examples=15, deadline=None)
def test_the_list_begins_with_what_forbids_driving(
    many: list[dict[str, Any]], grammar: Grammar
) -> None:
    """Something is due before the vehicle is moved just where the verdict says not to drive."""
    inspection = folded((finding(slots, n) for n, slots in enumerate(many, 1)), grammar)
    due = "now" in urgencies_of(inspection, grammar)
    assert due is (inspection.verdict.drive == DO_NOT_DRIVE)


@pytest.fixture(scope="module")
def due(grammar: Grammar) -> Callable[..., tuple[int, int]]:
    """The grade of one finding and how soon it is due, both as ranks from harmless to grave."""
    empty = folded((), grammar)
    ledger = Ledger(grammar.zone_map, grammar.rules, Rails.OPEN)

    def ranks(**slots: Any) -> tuple[int, int]:
        (graded,) = ledger.preview([Add(finding(slots))])
        alone = replace(empty, findings=(graded,))
        items = work_list(alone, grammar.zone_map, grammar.rules, Rails.OPEN)
        mine = [item.urgency for item in items if item.entry]
        assert graded.computed_grade is not None
        sooner = len(URGENCIES) - URGENCIES.index(mine[0]) if mine else 0
        return graded.computed_grade.rank, sooner

    return ranks


WORSENING: dict[str, tuple[Any, ...]] = {
    "probe": PROBED, "mount_distance_mm": DISTANCES, "loss_percent": LOSSES, "surround": SURROUNDED,
    "spoken_grade": SPOKEN,
}  # fmt: skip
"""Slots, each with values from harmless to grave."""


@given(
    zone=st.sampled_from(ZONES),
    condition=st.sampled_from(CONDITIONS),
    base=st.fixed_dictionaries({name: st.sampled_from(v) for name, v in WORSENING.items()}),
    slot=st.sampled_from(tuple(WORSENING)),
)
@settings(max_examples=60, deadline=None)
def test_what_is_worse_is_never_graded_better_nor_put_off(
    zone: str, condition: str, base: dict[str, Any], slot: str, due: Callable[..., tuple[int, int]]
) -> None:
    """A worse probe, distance, loss, surround or word of the inspector, all else equal."""
    told = [
        due(zone=zone, side="left", condition=condition, **{**base, slot: value})
        for value in WORSENING[slot]
    ]
    for better, worse in pairwise(told):
        assert better[0] <= worse[0]
        assert better[1] <= worse[1]
