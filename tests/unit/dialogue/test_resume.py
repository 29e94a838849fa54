"""Going on with an old log: the entries are there, the place is not."""

from __future__ import annotations

from typing import Any

import pytest

from voicelog.config.grammar import Grammar
from voicelog.dialogue.dialogue import Dialogue, Turn
from voicelog.domain.entry import Change, Entry, Kind
from voicelog.domain.heard import Heard
from voicelog.interpret.reader import Reader

EARLIER = (
    "left rear rail",
    "hole",
    "correction, right side",
    "kettle is on",
    "cab mount, scale",
    "same again on the other side",
    "right sill, soft",
    "disregard",
    "left sill, surface rust, thirty millimetres",
)


class _Run:
    """One run of the program over the same inspection."""

    def __init__(self, grammar: Grammar) -> None:
        self._reader = Reader(grammar.vocabulary, grammar.zone_map)
        self.dialogue = Dialogue(grammar.zone_map)
        self.made: list[tuple[Change, float]] = []

    def say(self, number: int, text: str, at_s: float) -> Turn:
        turn = self.dialogue.take(
            self._reader.read(Heard.typed(text)),
            utterance=f"u{number}",
            at="2026-03-14T08:05:30.000Z",
            at_s=at_s,
        )
        self.made += [(change, at_s) for change in turn.changes]
        return turn


@pytest.fixture
def runs(grammar: Grammar) -> tuple[_Run, _Run]:
    """The first run, and the one that goes on where it stopped."""
    first, second = _Run(grammar), _Run(grammar)
    for number, text in enumerate(EARLIER, start=2):
        first.say(number, text, number * 3.0)
    second.dialogue.resume(first.made)
    return first, second


def _live(dialogue: Dialogue) -> list[Entry]:
    return list(dialogue._scene.newest_first(*Kind))


def test_the_same_entries_hold(runs: tuple[_Run, _Run]) -> None:
    """Each as it stood, corrections and withdrawals done."""
    first, second = runs
    assert _live(second.dialogue) == _live(first.dialogue)
    assert len(_live(second.dialogue)) > 3


def test_the_place_has_to_be_named_anew(runs: tuple[_Run, _Run]) -> None:
    """The inspector may stand anywhere."""
    _, second = runs
    assert (second.dialogue.place, second.dialogue.question) == ({}, None)
    (change,) = second.say(20, "scale", 70.0).changes
    assert change.entry.unplaced  # type: ignore[union-attr]


def test_what_is_old_is_not_amended_by_late_words(runs: tuple[_Run, _Run]) -> None:
    """A measure at the same place, a day later, belongs to no finding of yesterday."""
    _, second = runs
    second.say(20, "left sill", 86_400.0)
    (change,) = second.say(21, "forty millimetres", 86_403.0).changes
    assert change.entry.kind is Kind.REMARK  # type: ignore[union-attr]


def test_it_can_be_corrected_all_the_same(runs: tuple[_Run, _Run]) -> None:
    """Whoever names the place means the entry there."""
    _, second = runs
    turn = second.say(20, "correction on right rear rail, crack", 86_400.0)
    assert [getattr(change, "set", {}) for change in turn.changes] == [
        {"condition": "crack", "certainty": "stated"}
    ]


def test_going_on_changes_nothing_that_follows(grammar: Grammar, runs: tuple[_Run, _Run]) -> None:
    """Once the place is named, both runs do the same with the same words."""
    words: list[Any] = ["left kick-up, hole", "twenty millimetres", "another one", "disregard"]
    did = [
        [run.say(30 + n, text, 100.0 + n).changes for n, text in enumerate(words)] for run in runs
    ]
    assert did[0] == did[1]
