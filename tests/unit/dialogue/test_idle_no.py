"""A "no" of talk puts nothing right, and sizes of tools are no sizes of faults."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Protocol

import pytest

from voicelog.domain.entry import Entry, Kind


class _Played(Protocol):
    entries: tuple[Entry, ...]


class _Stage(Protocol):
    def play(self, said: Sequence[str]) -> _Played: ...


@pytest.mark.parametrize(
    "talk",
    [
        "no put the sill trim in the van until he rings",
        "quarter inch drive not three eighths",
        "pass the three eighths drive",
        "no the half inch drive",
    ],
)
def test_talk_leaves_the_finding_as_it_is(stage: _Stage, talk: str) -> None:
    """What was found before it stands where it was."""
    first, *others = stage.play(["right outrigger, scale", talk]).entries
    assert dict(first.slots) == {
        "zone": "outrigger", "side": "right", "condition": "scale", "certainty": "stated",
    }  # fmt: skip
    assert {entry.kind for entry in others} <= {Kind.REMARK}


@pytest.mark.parametrize(
    ("said", "slot", "value"),
    [
        ("no, the left one", "side", "left"),
        ("no, tow hitch", "zone", "tow-hitch"),
        ("correction, the tow hitch, that thing in the van was talk", "zone", "tow-hitch"),
    ],
)
def test_a_no_that_makes_sense_puts_right(stage: _Stage, said: str, slot: str, value: str) -> None:
    """So does the control word, whatever stands around it."""
    entry, *_ = stage.play(["right outrigger, scale", said]).entries
    assert entry.slots[slot] == value
