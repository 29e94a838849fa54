"""What is refused, what is not kept, and how a speaker's own settings turn words into sides."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any, Protocol

import pytest

from voicelog.dialogue.dialogue import Turn
from voicelog.domain.entry import Add, Amend, Entry, Kind, Withdraw
from voicelog.domain.reading import Act, Speech
from voicelog.domain.zone import Rails


class _Played(Protocol):
    entries: Sequence[Entry]
    turns: Sequence[Turn]


class _Stage(Protocol):
    def play(
        self, said: Sequence[Any], speech: Speech | None = None, rails: Rails = Rails.MIXED
    ) -> _Played: ...


def test_a_second_disregard_in_a_row_is_refused(stage: _Stage) -> None:
    """One entry goes, the one before it stays, and the refusal is a sentence."""
    played = stage.play(["left sill, scale", "right sill, hole", "disregard", "disregard"])
    assert [entry.slots["side"] for entry in played.entries] == ["left"]
    assert [isinstance(change, Withdraw) for change in played.turns[2].changes] == [True]
    assert played.turns[3].changes == ()
    assert played.turns[3].refused


def test_a_disregard_after_other_words_is_taken_again(stage: _Stage) -> None:
    """Only two in a row are refused."""
    said = ["left sill, scale", "right sill, hole", "disregard", "tow hitch", "disregard"]
    played = stage.play(said)
    assert played.entries == ()
    assert not played.turns[-1].refused


@pytest.mark.parametrize("words", ["disregard", "correction, right side"])
def test_nothing_said_yet_is_refused(stage: _Stage, words: str) -> None:
    """There is nothing to withdraw or to correct."""
    turn = stage.play([words]).turns[0]
    assert (turn.changes, bool(turn.refused)) == ((), True)


def test_stand_by_keeps_nothing(stage: _Stage) -> None:
    """Neither a finding nor a bare *go ahead* counts until the attention word comes with it."""
    said = ["stand by", "left sill hole", "go ahead", "logbook go ahead", "left sill scale"]
    played = stage.play(said)
    assert [turn.standing_by for turn in played.turns] == [True, True, True, False, False]
    assert [turn.keep for turn in played.turns] == [True, False, False, True, True]
    assert [entry.slots["condition"] for entry in played.entries] == ["scale"]


def test_finish_asks_for_the_end(stage: _Stage) -> None:
    """The turn says so and changes nothing."""
    turn = stage.play(["finish inspection"]).turns[0]
    assert (turn.finished, turn.act, turn.changes) == (True, Act.FINISH, ())


def test_a_late_probe_is_an_amendment_with_its_reason(stage: _Stage) -> None:
    """One entry keeps its history: the probe changes it, nothing new is added."""
    played = stage.play(["left sill, surface rust", "scraper went through it"])
    (change,) = played.turns[1].changes
    assert isinstance(change, Amend)
    assert (change.entry, change.why) == (played.entries[0].id, "probe")


def test_ids_name_the_utterance_and_the_order(stage: _Stage) -> None:
    """Two findings in one breath are ``e2.1`` and ``e2.2``."""
    played = stage.play(["front rail, surface rust on the left, a hole on the right"])
    assert [entry.id for entry in played.entries] == ["e2.1", "e2.2"]
    assert {entry.utterance for entry in played.entries} == {"u2"}
    assert all(isinstance(change, Add) for change in played.turns[0].changes)


@pytest.mark.parametrize(
    ("words", "speech", "side"),
    [
        ("driver side sill, surface rust", Speech(driver_side="right"), "right"),
        ("passenger side sill, surface rust", Speech(driver_side="right"), "left"),
        ("nearside sill, surface rust", Speech(), "left"),
        ("offside sill, surface rust", Speech(), "right"),
        ("offside sill, surface rust", Speech(nearside="right"), "left"),
    ],
)
def test_sides_by_setting(stage: _Stage, words: str, speech: Speech, side: str) -> None:
    """Driver and kerb sides become left and right by the speaker's settings."""
    (entry,) = stage.play([words], speech).entries
    assert (entry.slots["side"], entry.doubtful) == (side, False)


@pytest.mark.parametrize("words", ["driver side sill, scale", "sill on my left, scale"])
def test_a_side_nobody_can_know_is_asked(stage: _Stage, words: str) -> None:
    """The side is left out, the entry doubtful, the question there."""
    (entry,) = stage.play([words]).entries
    assert entry.kind is Kind.FINDING
    assert ("side" in entry.slots, entry.doubtful) == (False, True)
    assert [(q.slot, q.options) for q in entry.questions] == [("side", ("left", "right"))]


def test_inside_an_open_rail_is_doubtful(stage: _Stage) -> None:
    """An open rail hides no cavity, so that its inboard face may have been meant."""
    (entry,) = stage.play(["left front rail, inside, scale"], rails=Rails.OPEN).entries
    assert entry.doubtful
