"""Late probing: what is said after the scraper was used belongs to what was seen before."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any, Protocol

import pytest

from voicelog.dialogue.dialogue import Turn
from voicelog.domain.entry import Amend, Entry


class _Played(Protocol):
    entries: Sequence[Entry]
    turns: Sequence[Turn]


class _Stage(Protocol):
    def play(self, said: Sequence[Any]) -> _Played: ...


THROUGH = {"condition": "hole", "probe": "through"}

ENDS: Mapping[str, tuple[Sequence[Any], Sequence[Mapping[str, Any]]]] = {
    "ten seconds of scraping later": (
        [(0, "left sill, surface rust"), (10, "went straight through")],
        [{"zone": "sill", "side": "left", **THROUGH}],
    ),
    "at the last moment": (
        [(0, "left sill, surface rust"), (45, "went straight through")], [THROUGH],
    ),
    "a moment too late": (
        [(0, "left sill, surface rust"), (46, "went straight through")],
        [{"condition": "surface-rust", "probe": None}, THROUGH],
    ),
    "on the other side, which has its own entry": (
        ["right sill, pitting", "left sill, surface rust", "right one went through"],
        [{"side": "right", **THROUGH}, {"side": "left", "condition": "surface-rust"}],
    ),
    "on the other side, where nothing was said": (
        ["left sill, surface rust", "right one went through"],
        [{"side": "left", "condition": "surface-rust"}, {"side": "right", **THROUGH}],
    ),
    "past a crack, to the rust it went through": (
        ["left sill, surface rust and a crack", "went straight through"],
        [THROUGH, {"condition": "crack", "probe": None}],
    ),
    "to the newer of two that rot": (
        ["left sill, surface rust", "left sill, scale", "went straight through"],
        [{"condition": "surface-rust"}, THROUGH],
    ),
    "to a crack where there is nothing else": (
        ["left sill, crack", "went straight through"],
        [{"condition": "crack", "probe": "through"}],
    ),
    "a measure goes to the newest, whatever it is": (
        ["left sill, surface rust and a crack", "two inches"],
        [{"condition": "surface-rust", "size_mm": None},
         {"condition": "crack", "size_mm": pytest.approx(50.8)}],
    ),
    "a clear place that gives way": (
        ["left sill, clean", "screwdriver went straight through it"], [THROUGH],
    ),
    "one numbered mount, not the one before it": (
        ["left cab mount number two, surface rust", "left cab mount number three",
         "went straight through"],
        [{"ordinal": 2, "condition": "surface-rust"}, {"ordinal": 3, **THROUGH}],
    ),
    "the fault named again with its depth": (
        ["brake line, pitting", "pits are twenty thou deep"],
        [{"condition": "pitting", "depth_mm": pytest.approx(0.508)}],
    ),
    "the same fault with the same measure is another one": (
        ["left sill, hole ten mil", "hole thirty mil"], [{"size_mm": 10.0}, {"size_mm": 30.0}],
    ),
    "what is left of thin metal": (
        ["left mid rail, thinning", "two mil", "should be three"],
        [{"thickness_mm": 2.0, "nominal_mm": 3.0, "size_mm": None}],
    ),
    "firm where no leak is": (
        ["fuel line, surface rust", "no leak there, and the metal is firm"],
        [{"condition": "surface-rust", "probe": "firm"}],
    ),
    "a range keeps both its ends": (
        ["left sill, hole", "ten to fifteen mil"],
        [{"size_mm": 15.0, "ranges": {"size_mm": (10.0, 15.0)}}],
    ),
}  # fmt: skip


@pytest.mark.parametrize(("said", "wanted"), ENDS.values(), ids=list(ENDS))
def test_what_stands_at_the_end(
    stage: _Stage, said: Sequence[Any], wanted: Sequence[Mapping[str, Any]]
) -> None:
    """As many entries as wanted, each with the values named; None stands for a slot left out."""
    told = [
        {name: entry.ranges if name == "ranges" else entry.slots.get(name) for name in want}
        for entry, want in zip(stage.play(said).entries, wanted, strict=True)
    ]
    assert told == list(wanted)


def test_one_entry_keeps_its_history(stage: _Stage) -> None:
    """Rust, then soft, then through: one entry, two amendments, the worse probe each time."""
    played = stage.play(["left sill, surface rust", "it's soft", "went straight through"])
    assert len(played.entries) == 1
    changes = [change for turn in played.turns[1:] for change in turn.changes]
    assert [change.set["probe"] for change in changes if isinstance(change, Amend)] == [
        "soft", "through",
    ]  # fmt: skip
