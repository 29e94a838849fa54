"""The next best reading: whole in the turn, and beside each doubtful entry it would replace."""

from __future__ import annotations

from typing import Any

import pytest

from voicelog.dialogue.dialogue import Dialogue, Turn
from voicelog.domain.entry import Add, Amend, Entry, Kind
from voicelog.domain.reading import Act, Reading, Statement


def _report(doubt: str = "", **slots: Any) -> Statement:
    return Statement(Act.REPORT, slots, doubts=(doubt,) if doubt else ())


def _take(dialogue: Dialogue, seq: int, said: list[Statement], *others: Statement) -> Turn:
    reading = Reading(tuple(said), "", runner_up=others)
    at = "2026-03-14T08:05:30.000Z"
    return dialogue.take(reading, utterance=f"u{seq}", at=at, at_s=seq * 3.0)


@pytest.fixture(autouse=True)
def _rust_found(dialogue: Dialogue) -> None:
    """At the left sill, where rust was found."""
    _take(dialogue, 2, [_report(zone="sill", side="left", condition="surface-rust")])


def _added(turn: Turn) -> list[Entry]:
    return [change.entry for change in turn.changes if isinstance(change, Add)]


def test_a_doubtful_entry_shows_its_counterpart_with_its_place(dialogue: Dialogue) -> None:
    """The runner-up is played in the same situation: the place is carried over to it too."""
    turn = _take(dialogue, 3, [_report("close", condition="hole")], _report(condition="scale"))
    assert _added(turn)[0].runner_up == {"zone": "sill", "side": "left", "condition": "scale"}
    (other,) = turn.runner_up
    assert isinstance(other, Add)
    assert (other.entry.id, other.entry.kind) == ("e3.1", Kind.FINDING)


def test_what_the_runner_up_would_do_is_not_done(dialogue: Dialogue) -> None:
    """It changes neither the place nor the entries of the inspection itself."""
    _take(
        dialogue, 3, [_report("close", condition="hole")],
        _report(zone="tow-hitch", condition="hole"), Statement(Act.DISREGARD),
    )  # fmt: skip
    turn = _take(dialogue, 4, [_report(condition="pitting")])
    assert _added(turn)[0].slots["zone"] == "sill"
    disregarded = _take(dialogue, 5, [Statement(Act.DISREGARD)])
    assert disregarded.changes


def test_several_entries_are_matched_in_order(dialogue: Dialogue) -> None:
    """As many in both readings: the first with the first, the second with the second."""
    turn = _take(
        dialogue, 3,
        [_report("close", side="left", condition="hole"), _report("close", side="right", condition="scale")],
        _report(side="left", condition="crack"), _report(side="right", condition="leak"),
    )  # fmt: skip
    assert [entry.runner_up["condition"] for entry in _added(turn)] == ["crack", "leak"]


def test_fewer_entries_are_matched_by_what_they_share(dialogue: Dialogue) -> None:
    """The one of the same side; the entry that has none gets nothing."""
    turn = _take(
        dialogue, 3,
        [_report("close", zone="tow-hitch", condition="hole"),
         _report("close", zone="sill", side="right", condition="scale")],
        _report(zone="sill", side="right", condition="crack"),
    )  # fmt: skip
    assert [entry.runner_up.get("condition") for entry in _added(turn)] == [None, "crack"]


def test_an_amendment_counts_as_the_entry_it_would_leave(dialogue: Dialogue) -> None:
    """The other reading would have changed the rust found before into a hole."""
    turn = _take(dialogue, 3, [_report("close", condition="crack")], _report(probe="through"))
    assert _added(turn)[0].runner_up["probe"] == "through"
    (other,) = turn.runner_up
    assert isinstance(other, Amend)
    assert other.entry == "e2.1"


def test_a_sure_entry_carries_no_runner_up(dialogue: Dialogue) -> None:
    """The turn still holds it whole, for review."""
    turn = _take(dialogue, 3, [_report(condition="hole")], _report(condition="scale"))
    assert _added(turn)[0].runner_up == {}
    assert turn.runner_up


def test_a_runner_up_that_would_do_the_same_is_left_out(dialogue: Dialogue) -> None:
    """It tells a reviewer nothing."""
    turn = _take(
        dialogue, 3, [_report("close", condition="hole")], _report("close", condition="hole")
    )
    assert _added(turn)[0].runner_up == {}
    assert turn.runner_up == ()


def test_nothing_is_played_in_stand_by(dialogue: Dialogue) -> None:
    """Neither reading may leave a trace."""
    _take(dialogue, 3, [Statement(Act.STAND_BY)])
    turn = _take(dialogue, 4, [_report(condition="hole")], _report(condition="scale"))
    assert (turn.changes, turn.runner_up, turn.keep) == ((), (), False)
