"""Half a corpus as it was heard: understood with one grammar, kept as a log, and put right."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from itertools import zip_longest

from corpus import Case

from voicelog.config.grammar import Grammar
from voicelog.config.settings import Settings
from voicelog.dialogue.dialogue import Dialogue, Turn
from voicelog.domain.change_json import change_to_json
from voicelog.domain.entry import Amend, Change, Inspection, Kind, Withdraw
from voicelog.domain.fact import Fact
from voicelog.domain.heard import Heard
from voicelog.domain.reading import Reading
from voicelog.findings.ledger import Ledger
from voicelog.interpret.reader import Reader
from voicelog.runtime.utterance_fact import utterance_body
from voicelog.yardstick.strict import answer_of, judge

AT = "2026-01-01T00:00:00Z"


@dataclass(frozen=True)
class Half:
    """Sentences as they were heard."""

    cases: tuple[Case, ...]
    heard: tuple[Heard, ...]


class Mind:
    """Understands sentences with one grammar, each by itself."""

    def __init__(self, grammar: Grammar) -> None:
        self._grammar, self._settings = grammar, Settings()
        self._reader = Reader(grammar.vocabulary, grammar.zone_map)

    def take(self, heard: Heard, name: str = "u2") -> tuple[Reading, Turn, Inspection]:
        """How it was read, what it changed, and what stands after it."""
        grammar, rails = self._grammar, self._settings.rails
        reading = self._reader.read(heard)
        dialogue = Dialogue(grammar.zone_map, rails=rails, speech=self._settings.speech)
        turn = dialogue.take(reading, utterance=name, at=AT, at_s=0.0)
        ledger = Ledger(grammar.zone_map, grammar.rules, rails)
        ledger.take(turn.changes)
        return reading, turn, ledger.inspection()

    def exact(self, half: Half) -> list[bool]:
        """Whether each sentence is read with every slot right and nothing extra."""
        return [
            judge(case.want, answer_of(self.take(heard)[2])).exact
            for case, heard in zip(half.cases, half.heard, strict=True)
        ]

    def false_entries(self, lines: Iterable[str]) -> int:
        """Entries made of chatter."""
        return sum(len(answer_of(self.take(Heard.typed(line))[2]).entries) for line in lines)


class Log:
    """The facts of a half, each sentence understood by itself, and the corrections made so far."""

    def __init__(self, half: Half, mind: Mind) -> None:
        self.facts: list[Fact] = [Fact(1, AT, 0.0, "", "opened", {})]
        self.read: dict[int, Inspection] = {}
        for number, heard in enumerate(half.heard, start=2):
            reading, turn, seen = mind.take(heard, f"u{number}")
            body = utterance_body(f"u{number}", heard, reading, turn, seen.findings)
            self.facts.append(Fact(number, AT, 0.0, "", "utterance", body))
            self.read[number] = seen

    def correct(self, number: int, case: Case) -> None:
        """The entries of a sentence get the slots they should have had; others are withdrawn."""
        made = [f.entry for f in self.read[number].live if f.entry.kind is not Kind.REMARK]
        changes: list[Change] = []
        for entry, want in zip_longest(made, case.want[: len(made)]):
            slots = {n: v for n, v in (want or {}).items() if n != "kind"}
            put_right = Amend(entry.id, slots, "correction", doubts=())
            changes.append(put_right if want else Withdraw(entry.id))
        body = {"did": "correct", "changes": [change_to_json(change) for change in changes]}
        self.facts.append(Fact(len(self.facts) + 1, AT, 0.0, "", "revised", body))
