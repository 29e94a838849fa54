"""Corrections: of any slot, of the newest entry or the one at a place, each a fact of its own."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any, Protocol

import pytest

from voicelog.dialogue.dialogue import Turn
from voicelog.domain.entry import Add, Amend, Entry, Kind


class _Played(Protocol):
    entries: Sequence[Entry]
    turns: Sequence[Turn]


class _Stage(Protocol):
    def play(self, said: Sequence[Any]) -> _Played: ...


ENDS: Mapping[str, tuple[Sequence[Any], Sequence[Mapping[str, Any]]]] = {
    "the named place, though another entry is newer": (
        ["left cab mount, scale", "right cab mount, hole",
         "correction on the left cab mount, surface rust"],
        [{"side": "left", "condition": "surface-rust"}, {"side": "right", "condition": "hole"}],
    ),
    "the newest of two at the named place": (
        ["left sill, scale", "left sill, hole", "tow hitch, crack",
         "correction on the left sill, pitting"],
        [{"condition": "scale"}, {"condition": "pitting"}, {"zone": "tow-hitch"}],
    ),
    "an entry whose side nobody said takes the side": (
        ["cab mount, scale", "correction on the left cab mount, surface rust"],
        [{"side": "left", "condition": "surface-rust"}],
    ),
    "one half of an entry of both sides": (
        ["left and right front rails, scale", "correction on the left front rail, surface rust"],
        [{"side": "left", "condition": "surface-rust"}, {"side": "right", "condition": "scale"}],
    ),
    "both of two entries, one a side": (
        ["left sill, scale", "right sill, hole", "correction, both sills, pitting"],
        [{"side": "left", "condition": "pitting"}, {"side": "right", "condition": "pitting"}],
    ),
    "a family means its newest member": (
        ["left front rail, scale", "right cab mount, hole", "correction on the rail, pitting"],
        [{"zone": "front-rail", "condition": "pitting", "doubtful": False},
         {"zone": "cab-mount", "condition": "hole"}],
    ),
    "the last entry when only its side was wrong": (
        ["left cab mount, scale", "correction, right cab mount, surface rust"],
        [{"side": "right", "condition": "surface-rust"}],
    ),
    "no, the right side": (
        ["left outrigger, scale", "no, the right side"],
        [{"side": "right", "condition": "scale"}],
    ),
    "make that, twice": (
        ["left outrigger, hole thirty mil", "make that thirty five", "make that forty"],
        [{"size_mm": 40.0}],
    ),
    "several slots at once": (
        ["left outrigger, surface rust", "correction, scale, right side, three inches"],
        [{"side": "right", "condition": "scale", "size_mm": pytest.approx(76.2)}],
    ),
    "scale, not rust": (
        ["left outrigger, rust", "scale, not rust"], [{"condition": "scale", "certainty": "stated"}],
    ),
    "another place denies nothing here": (
        ["left outrigger, rust", "right sill, scale, no rust"],
        [{"condition": "surface-rust"}, {"zone": "sill", "condition": "scale"}],
    ),
    "not long afterwards": (
        [(0, "left outrigger, rust"), (60, "scale, not rust")],
        [{"condition": "surface-rust"}, {"condition": "scale"}],
    ),
    "clear to finding and back": (
        ["left outrigger, clean", "correction, hole, went through", "correction, it's clean"],
        [{"kind": Kind.CLEAR, "condition": None, "probe": None, "method": "seen"}],
    ),
    "finding to clear and back": (
        ["left outrigger, hole thirty mil", "correction, it's clean", "correction, surface rust"],
        [{"kind": Kind.FINDING, "condition": "surface-rust", "size_mm": None}],
    ),
    "an assumed place said again is sure": (
        [(0, "left sill, hole"), (60, "pitting"), (63, "correction, left sill")],
        [{}, {"zone": "sill", "condition": "pitting", "place_assumed": False}],
    ),
    "an assumed place put right is sure": (
        [(0, "left sill, hole"), (60, "pitting"), (63, "correction, tow hitch")],
        [{}, {"zone": "tow-hitch", "place_assumed": False}],
    ),
    "a size of an assumed place leaves it assumed": (
        [(0, "left sill, hole"), (60, "pitting"), (63, "correction, ten millimetres")],
        [{}, {"size_mm": 10.0, "place_assumed": True}],
    ),
    "a number said as a range": (
        ["left sill, hole ten to fifteen mil", "correction, twenty mil"],
        [{"size_mm": 20.0, "ranges": {}}],
    ),
    "a range for a number": (
        ["left sill, hole three inches", "make that four to five"],
        [{"size_mm": pytest.approx(127.0),
          "ranges": {"size_mm": (pytest.approx(101.6), pytest.approx(127.0))}}],
    ),
    "a bare number means the measure it is nearest to": (
        ["left sill, three holes, biggest thirty mil", "make that four", "make that forty"],
        [{"count": 4, "size_mm": 40.0}],
    ),
    "the larger of two dimensions": (
        ["left sill, hole ten by fifteen mil", "make that twenty"],
        [{"size_mm": 20.0, "width_mm": 10.0}],
    ),
    "the thickness, not what it should be": (
        ["left mid rail, thickness one point nine, should be two point five",
         "correction, two point one"],
        [{"thickness_mm": 2.1, "nominal_mm": 2.5}],
    ),
    "a length without a label takes the length that is there": (
        ["left sill, pitting two millimetres deep", "make that three millimetres"],
        [{"depth_mm": 3.0, "size_mm": None}],
    ),
    "the other side": (
        ["left sill, scale", "correction, the other side"],
        [{"side": "right", "condition": "scale"}],
    ),
    "a numbered mount, though another is newer": (
        ["left cab mount number two, scale", "left cab mount number three, hole",
         "correction on the left cab mount number two, pitting"],
        [{"ordinal": 2, "condition": "pitting"}, {"ordinal": 3, "condition": "hole"}],
    ),
    "it could not be seen at all": (
        ["left sill, scale", "correction, can't see it for mud"],
        [{"kind": Kind.NOT_SEEN, "zone": "sill", "side": "left", "condition": None}],
    ),
    "a place for what had none": (
        [(0, "hole ten millimetres"), (20, "correction, left sill")],
        [{"kind": Kind.FINDING, "zone": "sill", "side": "left", "size_mm": 10.0}],
    ),
    "but not once something else was said": (
        ["hole ten millimetres", "left sill, scale", "correction, right sill"],
        [{"unplaced": True}, {"side": "right", "condition": "scale"}],
    ),
    "a doubt stays while its question is open": (
        ["driver side sill, scale", "correction, ten millimetres"],
        [{"size_mm": 10.0, "doubtful": True}],
    ),
    "a place of which there is one has no side": (
        ["left engine mount, oil film", "correction, gearbox cross member"],
        [{"zone": "gearbox-cross-member", "side": None, "condition": "oil-film"}],
    ),
    "gone through after all": (
        ["left sill, surface rust", "correction, screwdriver went through it"],
        [{"condition": "hole", "probe": "through"}],
    ),
    "a doubt goes with its question": (
        ["driver side sill, scale", "correction, left side"],
        [{"side": "left", "doubtful": False, "questions": ()}],
    ),
}  # fmt: skip

_OWN = ("kind", "unplaced", "doubtful", "place_assumed", "ranges", "questions")


@pytest.mark.parametrize(("said", "wanted"), ENDS.values(), ids=list(ENDS))
def test_what_stands_at_the_end(
    stage: _Stage, said: Sequence[Any], wanted: Sequence[Mapping[str, Any]]
) -> None:
    """As many entries as wanted, each with the values named; None stands for a slot left out."""
    told = [
        {name: getattr(entry, name) if name in _OWN else entry.slots.get(name) for name in want}
        for entry, want in zip(stage.play(said).entries, wanted, strict=True)
    ]
    assert told == list(wanted)


@pytest.mark.parametrize(
    "words",
    ["correction on the left cab mount, surface rust", "correction on the tow hitch, hole"],
)
def test_a_place_without_an_entry_is_refused_and_the_words_kept(stage: _Stage, words: str) -> None:
    """The entry that is there stays as it is; the refusal names the next step."""
    played = stage.play(["right cab mount, hole", words])
    assert [entry.kind for entry in played.entries] == [Kind.FINDING, Kind.REMARK]
    assert played.entries[0].slots["condition"] == "hole"
    assert played.entries[1].text == words
    assert played.entries[1].doubtful
    assert "say it as a new finding" in played.turns[1].refused


def test_every_correction_is_an_amendment_of_its_own(stage: _Stage) -> None:
    """Two in a row leave two facts, each with what it changed, so that the history shows both."""
    turns = stage.play(["left sill, scale", "correction, right side", "correction, hole"]).turns
    changes = [change for turn in turns[1:] for change in turn.changes]
    assert all(isinstance(change, Amend) and change.why == "correction" for change in changes)
    assert [dict(change.set) for change in changes if isinstance(change, Amend)] == [
        {"side": "right"},
        {"condition": "hole", "certainty": "stated"},
    ]


def test_the_other_half_is_a_new_entry_of_the_correction(stage: _Stage) -> None:
    """Its id names the utterance that parted the two; its words are the ones it was read from."""
    said = ["left and right front rails, scale", "correction on the left front rail, surface rust"]
    first, second = stage.play(said).turns[1].changes
    assert isinstance(first, Amend)
    assert isinstance(second, Add)
    assert (second.entry.id, second.entry.utterance) == ("e3.1", "u3")
    assert second.entry.text == said[0]


def test_a_correction_moves_the_current_place(stage: _Stage) -> None:
    """What is said next is said of the place that was put right."""
    said = ["left cab mount, scale", "tow hitch, crack", "correction on the left cab mount, hole"]
    played = stage.play([*said, "pitting"])
    assert (played.entries[-1].slots["zone"], played.entries[-1].slots["side"]) == (
        "cab-mount", "left",
    )  # fmt: skip


@pytest.mark.parametrize(
    ("said", "side"),
    [
        ("correction on the cab mount, right side", "right"),
        ("correction on the right cab mount", "right"),
    ],
)
def test_correction_on_a_place_means_the_entry_there(stage: _Stage, said: str, side: str) -> None:
    """Its side was wrong; the entry made last, unsafe or not, stays where it is."""
    before = stage.play(["left cab mount, scale", "left radius arm mount, crack"]).entries
    cab, arm = stage.play(["left cab mount, scale", "left radius arm mount, crack", said]).entries
    assert (cab.slots["zone"], cab.slots["side"], cab.slots["condition"]) == (
        "cab-mount", side, "scale",
    )  # fmt: skip
    assert arm.slots == before[1].slots


def test_correction_on_a_place_without_an_entry_moves_no_other(stage: _Stage) -> None:
    """Whoever wants to move the last entry names the place alone."""
    first, *others = stage.play(
        ["left radius arm mount, crack", "correction on the cab mount, right side"]
    ).entries
    assert (first.slots["zone"], first.slots["side"]) == ("radius-arm-mount", "left")
    assert {entry.kind for entry in others} == {Kind.REMARK}
    moved, *_ = stage.play(["left radius arm mount, crack", "correction, right cab mount"]).entries
    assert (moved.slots["zone"], moved.slots["side"]) == ("cab-mount", "right")
