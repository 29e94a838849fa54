"""A played inspection: spoken text in, the entries that live at its end out."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import pytest

from voicelog.config.grammar import Grammar, load_grammar
from voicelog.dialogue.ask import AskPolicy
from voicelog.dialogue.dialogue import Dialogue, Turn
from voicelog.domain.entry import Add, Amend, Entry, amended
from voicelog.domain.heard import Heard
from voicelog.domain.reading import Reading, Speech
from voicelog.domain.zone import Rails
from voicelog.interpret.reader import Reader

Said = Sequence[str | tuple[float, str]]
"""Utterances, each with its second of the inspection where the moment matters."""

PAUSE_S = 3.0


@dataclass(frozen=True)
class Played:
    """The entries at the end in order, and what each utterance did."""

    entries: tuple[Entry, ...]
    turns: tuple[Turn, ...]


def _follow(entries: dict[str, Entry], turn: Turn) -> None:
    for change in turn.changes:
        if isinstance(change, Add):
            entries[change.entry.id] = change.entry
        elif isinstance(change, Amend):
            entries[change.entry] = amended(entries[change.entry], change)
        else:
            del entries[change.entry]


class Stage:
    """Plays inspections with the shipped words and map, as the session does without its log."""

    def __init__(self, grammar: Grammar) -> None:
        self._grammar = grammar
        self._plain = Reader(grammar.vocabulary, grammar.zone_map)

    def play(self, said: Said, speech: Speech | None = None, rails: Rails = Rails.MIXED) -> Played:
        """Take every utterance in turn; without a moment of its own each comes 3 s later."""
        reader, speech = self._reader(speech), speech or Speech()
        dialogue = Dialogue(self._grammar.zone_map, rails=rails, speech=speech)
        entries: dict[str, Entry] = {}
        turns = []
        for number, one in enumerate(said):
            at_s, text = one if isinstance(one, tuple) else (number * PAUSE_S, one)
            reading = reader.read(Heard.typed(text))
            turn = dialogue.take(
                reading, utterance=f"u{number + 2}", at="2026-03-14T08:05:30.000Z", at_s=at_s
            )
            _follow(entries, turn)
            turns.append(turn)
        return Played(tuple(entries.values()), tuple(turns))

    def _reader(self, speech: Speech | None) -> Reader:
        if speech is None:
            return self._plain
        return Reader(self._grammar.vocabulary, self._grammar.zone_map, speech=speech)


class Live:
    """Somebody who can be asked: one utterance at a time, 3 s apart unless said otherwise."""

    def __init__(self, grammar: Grammar) -> None:
        self.reader = Reader(grammar.vocabulary, grammar.zone_map)
        self.dialogue = Dialogue(grammar.zone_map, asks=AskPolicy(ask_s=8.0))
        self.entries: dict[str, Entry] = {}
        self.unsafe: tuple[str, ...] = ()
        self.at_s, self._seq = 0.0, 1

    def say(self, text: str, *, after_s: float = PAUSE_S, lasts_s: float = 0.0) -> Turn:
        """Clear words."""
        return self._take(self.reader.read(Heard.typed(text)), after_s, lasts_s)

    def mumble(self, text: str, instead: str = "") -> Turn:
        """Words that were understood as they stand, but might be others: every entry doubtful."""
        reading = self.reader.read(Heard.typed(text))
        said = tuple(replace(one, doubts=("heard faintly",)) for one in reading.statements)
        other = self.reader.read(Heard.typed(instead)).statements if instead else ()
        return self._take(replace(reading, statements=said, runner_up=other), PAUSE_S, 0.0)

    @property
    def last(self) -> Entry:
        """The newest entry that holds."""
        return list(self.entries.values())[-1]

    def _take(self, reading: Reading, after_s: float, lasts_s: float) -> Turn:
        self.at_s += after_s + lasts_s
        self._seq += 1
        turn = self.dialogue.take(
            reading,
            utterance=f"u{self._seq}",
            at="2026-03-14T08:05:30.000Z",
            at_s=self.at_s,
            began_s=self.at_s - lasts_s,
            unsafe=self.unsafe,
        )
        _follow(self.entries, turn)
        return turn


@pytest.fixture
def live(grammar: Grammar) -> Live:
    """A dialogue that asks, in which nothing was said yet."""
    return Live(grammar)


@pytest.fixture(scope="session")
def grammar() -> Grammar:
    """The shipped ``ladder-frame`` grammar, loaded once: it never changes."""
    return load_grammar()


@pytest.fixture(scope="session")
def stage(grammar: Grammar) -> Stage:
    """A stage with that grammar; its reader never changes either."""
    return Stage(grammar)


@pytest.fixture
def dialogue(grammar: Grammar) -> Dialogue:
    """A dialogue in which nothing was said yet."""
    return Dialogue(grammar.zone_map)
