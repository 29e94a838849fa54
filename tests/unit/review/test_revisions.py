"""Corrections as facts: what a line did, what can be undone, and the way back."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

import pytest

from voicelog.domain.change_json import change_to_json
from voicelog.domain.entry import Add, Change, Entry, Kind, Replace, Restore, State, Withdraw
from voicelog.domain.fact import Fact
from voicelog.domain.revision import Revision
from voicelog.errors import LogFault
from voicelog.review.revisions import SAID, Stacks, alike, back, revision_of

AT = "2026-03-14T08:05:30.000Z"
RUST = Entry("e2.1", "u2", AT, Kind.FINDING, {"zone": "sill", "condition": "surface-rust"})
HOLE = Entry("e2.1", "u2", AT, Kind.FINDING, {"zone": "sill", "condition": "hole"})


def fact(seq: int, kind: str, changes: Iterable[Change] = (), **body: Any) -> Fact:
    """A line of a log."""
    told = {"changes": [change_to_json(change) for change in changes]}
    return Fact(seq, AT, 0.0, "0" * 64, kind, told | body)


def did(*deeds: str) -> Stacks:
    """The stacks after these deeds, on lines 2, 3, …"""
    stacks = Stacks()
    for seq, deed in enumerate(deeds, 2):
        stacks = stacks.after(Revision(seq, AT, deed, ()))
    return stacks


def seqs(pile: tuple[Revision, ...]) -> list[int]:
    """The lines of a stack."""
    return [revision.seq for revision in pile]


def test_a_correction_says_who_when_and_why() -> None:
    """As its line has it; what an undo is about is told too."""
    line = fact(7, "revised", [Replace(HOLE)], did="undo", by="Sam", why="misheard", of=5)
    assert revision_of(line) == Revision(7, AT, "undo", (Replace(HOLE),), "Sam", "misheard", 5)


def test_an_utterance_is_told_beside_the_corrections() -> None:
    """What made the entry belongs to its history, without a name."""
    assert revision_of(fact(2, "utterance", [Add(RUST)])) == Revision(2, AT, SAID, (Add(RUST),))


@pytest.mark.parametrize("kind", ["opened", "signed", "listened", "invented"])
def test_a_line_about_no_entry_is_no_revision(kind: str) -> None:
    """Nor is one that this version does not know."""
    assert revision_of(fact(3, kind)) is None


def test_a_correction_nobody_can_read_names_its_line() -> None:
    """It is not passed over in silence."""
    with pytest.raises(LogFault, match="Line 9"):
        revision_of(Fact(9, AT, 0.0, "", "revised", {"did": "correct", "changes": [{"do": "?"}]}))


def test_deeds_are_undone_newest_first_and_done_again_oldest_first() -> None:
    """Like any undo."""
    assert seqs(did("correct", "withdraw", "undo").done) == [2]
    assert seqs(did("correct", "withdraw", "undo").undone) == [3]
    twice = did("correct", "withdraw", "undo", "undo")
    assert (seqs(twice.done), seqs(twice.undone)) == ([], [3, 2])
    again = did("correct", "withdraw", "undo", "undo", "redo")
    assert (seqs(again.done), seqs(again.undone)) == ([2], [3])


def test_a_new_deed_ends_what_could_be_done_again() -> None:
    """The log goes on from there."""
    after = did("correct", "undo", "confirm")
    assert (seqs(after.done), seqs(after.undone)) == ([4], [])


def test_what_is_said_touches_no_stack() -> None:
    """It can be corrected, not undone."""
    after = did("correct", "undo", SAID)
    assert (seqs(after.done), seqs(after.undone)) == ([], [2])


def test_an_undo_too_many_in_a_log_harms_nothing() -> None:
    """Another program may have written it."""
    assert did("undo", "redo", "undo") == Stacks()


@pytest.mark.parametrize(
    ("now", "wanted", "changes"),
    [
        (State(RUST), State(RUST), []),
        (State(RUST), State(HOLE), [Replace(HOLE)]),
        (State(RUST, True), State(RUST), [Restore("e2.1")]),
        (State(RUST), State(RUST, True), [Withdraw("e2.1")]),
        (State(RUST), None, [Withdraw("e2.1")]),
        (State(RUST, True), None, []),
        (State(RUST, True), State(HOLE), [Replace(HOLE), Restore("e2.1")]),
        (State(RUST), State(HOLE, True), [Replace(HOLE), Withdraw("e2.1")]),
        (None, State(RUST), []),
    ],
)
def test_the_way_back(now: State | None, wanted: State | None, changes: list[Change]) -> None:
    """An entry that was not there yet is withdrawn: no line of a log is ever taken out."""
    assert list(back({"e2.1": now}, {"e2.1": wanted})) == changes


def test_what_is_withdrawn_is_as_good_as_not_there() -> None:
    """Two states are alike when the same holds."""
    assert alike({"e2.1": State(RUST, True)}, {"e2.1": None})
    assert alike({"e2.1": State(RUST)}, {"e2.1": State(RUST)})
    assert not alike({"e2.1": State(RUST)}, {"e2.1": State(HOLE)})
    assert not alike({"e2.1": State(RUST)}, {"e2.1": State(RUST, True)})
