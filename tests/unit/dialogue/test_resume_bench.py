"""Going on with a log that was put right at the bench: voice finds the entries as they stand now."""

from __future__ import annotations

from dataclasses import replace

import pytest

from voicelog.config.grammar import Grammar
from voicelog.dialogue.dialogue import Dialogue, Turn
from voicelog.domain.entry import Add, Amend, Change, Entry, Kind, Replace, Restore, Withdraw
from voicelog.domain.heard import Heard
from voicelog.interpret.reader import Reader

AT = "2026-03-14T08:05:30.000Z"
SILL = Entry(
    "e2.1", "u2", AT, Kind.FINDING,
    {"zone": "sill", "side": "left", "condition": "scale", "certainty": "stated"},
    runner_up={"condition": "hole"},
)  # fmt: skip
RAIL = Entry(
    "e3.1", "u3", AT, Kind.FINDING,
    {"zone": "rear-rail", "side": "left", "condition": "scale", "certainty": "stated"},
)  # fmt: skip
SAID = [Add(SILL), Add(RAIL)]


@pytest.fixture
def reader(grammar: Grammar) -> Reader:
    """Of the shipped words."""
    return Reader(grammar.vocabulary, grammar.zone_map)


def resumed(grammar: Grammar, *done: Change) -> Dialogue:
    """A dialogue that goes on after this was said, and done at the bench."""
    dialogue = Dialogue(grammar.zone_map)
    dialogue.resume([(change, float(n)) for n, change in enumerate((*SAID, *done))])
    return dialogue


def live(dialogue: Dialogue) -> list[Entry]:
    """The entries that hold, the newest first."""
    return list(dialogue._scene.newest_first(*Kind))


def say(dialogue: Dialogue, reader: Reader, text: str) -> Turn:
    """A day later."""
    return dialogue.take(reader.read(Heard.typed(text)), utterance="u9", at=AT, at_s=86_400.0)


def test_an_entry_replaced_is_met_as_it_is_now(grammar: Grammar, reader: Reader) -> None:
    """At its new place, not at the old one; other readings of it are none any more."""
    moved = replace(SILL, slots={**SILL.slots, "zone": "kick-up"})
    dialogue = resumed(grammar, Replace(moved))
    assert live(dialogue) == [RAIL, replace(moved, runner_up={})]
    (change,) = say(dialogue, reader, "correction on left kick-up, hole").changes
    assert isinstance(change, Amend)
    assert (change.entry, change.set["condition"]) == ("e2.1", "hole")


def test_what_was_withdrawn_does_not_hold(grammar: Grammar) -> None:
    """Nor after it was replaced or amended meanwhile."""
    away = (Withdraw("e3.1"), Replace(RAIL), Amend("e3.1", {"side": "right"}, "correction"))
    assert [entry.id for entry in live(resumed(grammar, *away))] == ["e2.1"]


def test_what_was_restored_takes_its_old_turn(grammar: Grammar) -> None:
    """It was said before the others, and is not the last thing said because it came back."""
    back = resumed(
        grammar, Withdraw("e2.1"), Amend("e2.1", {"side": "right"}, "correction"), Restore("e2.1")
    )
    assert [entry.id for entry in live(back)] == ["e3.1", "e2.1"]
    assert live(back)[1].slots["side"] == "right"


def test_a_dialogue_may_begin_at_a_place(grammar: Grammar, reader: Reader) -> None:
    """Words read again at the bench lie where their entry lies."""
    dialogue = Dialogue(grammar.zone_map, place={"zone": "sill", "side": "left"})
    (change,) = say(dialogue, reader, "hole").changes
    assert isinstance(change, Add)
    assert (change.entry.slots["zone"], change.entry.slots["side"]) == ("sill", "left")
