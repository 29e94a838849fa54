"""What an utterance does, row by row of the table that the program was agreed on."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any, Protocol

import pytest

from voicelog.domain.entry import Entry


class _Played(Protocol):
    entries: Sequence[Entry]


class _Stage(Protocol):
    def play(self, said: Sequence[Any]) -> _Played: ...


SCALE = {"kind": "finding", "zone": "outrigger", "side": "left", "condition": "scale"}
LATE_S, IN_TIME_S = 50.0, 40.0

CASES: Mapping[str, tuple[Sequence[Any], Sequence[Mapping[str, Any]]]] = {
    "a place alone makes no entry": (["left front rail"], []),
    "a side alone changes the side": (
        ["left front rail, surface rust", "right side", "pitting"],
        [{"zone": "front-rail", "side": "left", "condition": "surface-rust"},
         {"zone": "front-rail", "side": "right", "condition": "pitting"}],
    ),
    "right before talk is filler": (
        ["left front rail", "right, where were we", "scale"],
        [{"kind": "remark"}, {"zone": "front-rail", "side": "left", "condition": "scale"}],
    ),
    "a fresh place is carried": (
        [(0, "left sill"), (IN_TIME_S, "surface rust")],
        [{"zone": "sill", "side": "left", "place_assumed": False}],
    ),
    "an old place is only assumed": (
        [(0, "left sill"), (LATE_S, "surface rust")],
        [{"zone": "sill", "side": "left", "place_assumed": True}],
    ),
    "a new zone clears side and face": (
        ["left kick up, inside, scale", "tow hitch, surface rust"],
        [{"zone": "kick-up", "side": "left", "face": "interior"},
         {"zone": "tow-hitch", "side": None, "face": None}],
    ),
    "a new side clears the face": (
        ["left kick up, inside, scale", "right side, surface rust"],
        [{"face": "interior"}, {"zone": "kick-up", "side": "right", "face": None}],
    ),
    "a condition without a place is an unplaced remark": (
        ["surface rust"],
        [{"kind": "remark", "unplaced": True, "condition": "surface-rust", "zone": None}],
    ),
    "a place within five seconds completes it": (
        [(0, "hole ten millimetres"), (4, "left sill")],
        [{"kind": "finding", "unplaced": False, "zone": "sill", "side": "left", "size_mm": 10.0}],
    ),
    "a later place does not": (
        [(0, "hole ten millimetres"), (6, "left sill")],
        [{"kind": "remark", "unplaced": True, "zone": None}],
    ),
    "a probe in time makes rust a hole": (
        [(0, "left sill, surface rust"), (IN_TIME_S, "scraper went through it")],
        [{"condition": "hole", "probe": "through"}],
    ),
    "too late it is an entry of its own": (
        [(0, "left sill, surface rust"), (LATE_S, "scraper went through it")],
        [{"condition": "surface-rust", "probe": None},
         {"condition": "hole", "probe": "through", "place_assumed": True}],
    ),
    "a late measure amends nothing": (
        [(0, "left sill, pitting"), (LATE_S, "two millimetres deep")],
        [{"condition": "pitting", "depth_mm": None}, {"kind": "remark"}],
    ),
    "a measure in time amends": (
        [(0, "left sill, pitting"), (IN_TIME_S, "two millimetres deep")],
        [{"condition": "pitting", "depth_mm": 2.0}],
    ),
    "a grade in time amends": (
        ["left sill, scale", "call it cosmetic"],
        [{"condition": "scale", "spoken_grade": "cosmetic"}],
    ),
    "a bad probe alone is a soft spot": (
        ["left sill, screwdriver sinks in"], [{"condition": "soft-spot", "probe": "soft"}],
    ),
    "a probe that goes through alone is a hole": (
        ["left sill, screwdriver goes straight through"],
        [{"condition": "hole", "probe": "through"}],
    ),
    "same again never copies measures or probe": (
        ["left cab mount, pitting two millimetres deep, firm", "same again on the other side"],
        [{"side": "left", "depth_mm": 2.0, "probe": "firm"},
         {"side": "right", "condition": "pitting", "depth_mm": None, "probe": None}],
    ),
    "another one copies condition and place": (
        ["left sill, hole ten millimetres", "another one"],
        [{"size_mm": 10.0},
         {"zone": "sill", "side": "left", "condition": "hole", "size_mm": None}],
    ),
    "both rails are one entry": (
        ["left and right mid rails, scale"], [{"zone": "mid-rail", "side": "both"}],
    ),
    "everything denied is clear": (
        ["left front rail, no holes, no scale, firm"],
        [{"kind": "clear", "probe": "firm", "absent": ("hole", "scale"), "condition": None}],
    ),
    "no holes alone is a remark": (["left front rail, no holes"], [{"kind": "remark"}]),
    "no rust seen is clear by sight": (
        ["left sill, can't see any rust"], [{"kind": "clear", "method": "seen"}],
    ),
    "mud clears nothing": (
        ["right wheel arch, packed with mud"],
        [{"kind": "finding", "zone": "wheel-arch", "condition": "debris"}],
    ),
    "mud over sound metal is clear": (
        ["right wheel arch, muddy but the metal is solid"], [{"kind": "clear"}],
    ),
    "can't see wins over mud": (
        ["left kick up, can't see it for mud"],
        [{"kind": "not-seen", "zone": "kick-up", "reason": "mud", "condition": None}],
    ),
    "can't see keeps its reason": (
        ["left kick up, can't see inside, heat shield in the way"],
        [{"kind": "not-seen", "face": "interior", "reason": "heat shield in the way"}],
    ),
    "a photo is claimed for the place": (
        ["left kick up, inside", "photo"],
        [{"kind": "photo", "zone": "kick-up", "side": "left", "face": "interior"}],
    ),
    "a correction moves the side": (
        ["left outrigger, scale", "correction, right side"], [{**SCALE, "side": "right"}],
    ),
    "a correction moves the current place": (
        ["left outrigger, scale", "correction, right side", "hole"],
        [{**SCALE, "side": "right"}, {**SCALE, "side": "right", "condition": "hole"}],
    ),
    "a correction moves the zone": (
        ["left outrigger, scale", "correction, left sill"], [{**SCALE, "zone": "sill"}],
    ),
    "a correction by place addresses the newest entry there": (
        ["left outrigger, scale", "right sill, hole", "correction, left outrigger, pitting"],
        [{**SCALE, "condition": "pitting"}, {"zone": "sill", "side": "right", "condition": "hole"}],
    ),
    "a correction can clear": (
        ["left outrigger, scale", "correction, it's clean"],
        [{**SCALE, "kind": "clear", "condition": None}],
    ),
    "no, it's just is a correction": (
        ["left outrigger, scale", "no, it's just surface rust"],
        [{**SCALE, "condition": "surface-rust"}],
    ),
    "a bare number takes slot and unit": (
        ["left outrigger, hole three inches", "make that four"],
        [{"condition": "hole", "size_mm": pytest.approx(101.6)}],
    ),
    "make that thirty five": (
        ["left outrigger, hole thirty millimetres", "make that thirty five"], [{"size_mm": 35.0}],
    ),
    "disregard withdraws": (["left outrigger, scale", "disregard"], []),
    "disregard never addresses a remark": (
        ["left outrigger, scale", "tell him i am busy", "disregard"], [{"kind": "remark"}],
    ),
    "a family asks which": (
        ["left rail, surface rust"],
        [{"zone": None, "side": "left", "doubtful": True,
          "asks": {"zone": ("front-rail", "mid-rail", "rear-rail")}}],
    ),
    "the carried zone settles a family": (
        ["left mid rail", "the rail, surface rust"],
        [{"zone": "mid-rail", "side": "left", "doubtful": False, "asks": {}}],
    ),
    "inside a part without a cavity is doubtful": (
        ["left sill, inside, surface rust"],
        [{"doubtful": True, "asks": {"face": ("interior", "inboard")}}],
    ),
    "inside a rail that may be boxed is not": (
        ["left front rail, inside, surface rust"], [{"face": "interior", "doubtful": False}],
    ),
    "a landmark is the place when there is no other": (
        ["surface rust by the shock mount"], [{"kind": "finding", "zone": "shock-mount"}],
    ),
    "a landmark never replaces the carried place": (
        ["left front rail", "surface rust by the shock mount"],
        [{"zone": "front-rail", "side": "left"}],
    ),
}  # fmt: skip


def _told(entry: Entry, name: str) -> Any:
    if name == "asks":
        return {question.slot: question.options for question in entry.questions}
    if name in ("kind", "unplaced", "place_assumed", "absent", "reason", "doubtful"):
        return getattr(entry, name)
    return entry.slots.get(name)


@pytest.mark.parametrize(("said", "wanted"), CASES.values(), ids=list(CASES))
def test_a_row(stage: _Stage, said: Sequence[Any], wanted: Sequence[Mapping[str, Any]]) -> None:
    """As many entries as wanted, each with the values named; None stands for a slot left out."""
    entries = stage.play(said).entries
    told = [
        {name: _told(entry, name) for name in want}
        for entry, want in zip(entries, wanted, strict=True)
    ]
    assert told == list(wanted)
