"""What was heard, made into entries: reader, dialogue and ledger as one."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from voicelog.config.grammar import Grammar
from voicelog.config.settings import Settings
from voicelog.dialogue.ask import Ask, AskPolicy
from voicelog.dialogue.dialogue import Dialogue, Turn
from voicelog.domain.entry import Finding, Inspection
from voicelog.domain.fact import Fact, changes_of
from voicelog.domain.grade import Grade
from voicelog.domain.heard import Heard
from voicelog.domain.reading import Reading
from voicelog.findings.ledger import Ledger
from voicelog.interpret.reader import Reader


@dataclass(frozen=True, slots=True)
class Understood:
    """One utterance: how it was read, what it changed, and the entries it touched."""

    reading: Reading
    turn: Turn
    findings: tuple[Finding, ...]


class Understanding:
    """Remembers the inspection so far; does no input or output.

    Args:
        settings: in force.
        grammar: words, map and rules in force.
        ask_s: seconds in which a question can be answered; None asks nothing.
    """

    def __init__(self, settings: Settings, grammar: Grammar, ask_s: float | None) -> None:
        self._reader = Reader(grammar.vocabulary, grammar.zone_map, speech=settings.speech)
        self._dialogue = Dialogue(
            grammar.zone_map, rails=settings.rails, speech=settings.speech,
            asks=AskPolicy(ask_s) if ask_s is not None else None,
        )  # fmt: skip
        self._ledger = Ledger(grammar.zone_map, grammar.rules, settings.rails)
        self._unsafe: set[str] = set()

    @property
    def question(self) -> Ask | None:
        """The question that is open, if any."""
        return self._dialogue.question

    def warm(self) -> None:
        """Build what the first reading would have to build, so that nobody waits for it."""
        self._reader.read(Heard.typed("left front rail, surface rust"))

    def resume(self, facts: Iterable[Fact]) -> None:
        """Take up what a log already holds; the place has to be named anew."""
        changes = [(change, fact.offset_s) for fact in facts for change in changes_of(fact)]
        self._ledger.take(change for change, _ in changes)
        self._dialogue.resume(changes)
        self._note_unsafe(self.inspection().findings)

    def take(
        self, heard: Heard, *, utterance: str, at: str, at_s: float, began_s: float
    ) -> Understood:
        """What the words of one utterance do.

        Args:
            heard: the words.
            utterance: its id.
            at: wall-clock time, RFC 3339.
            at_s: when it ended, in seconds of the inspection.
            began_s: when it began.
        """
        reading = self._reader.read(heard)
        turn = self._dialogue.take(
            reading, utterance=utterance, at=at, at_s=at_s, began_s=began_s, unsafe=self._unsafe
        )
        findings = self._ledger.apply(turn.changes)
        self._note_unsafe(findings)
        return Understood(reading, turn, findings)

    def lapse(self, at_s: float) -> Ask | None:
        """The question whose time has just run out, if there is one."""
        asked = self.question
        return asked if self._dialogue.lapse(at_s) else None

    def asked(self, at_s: float) -> None:
        """The open question has been said to its end: the time to answer it begins now."""
        self._dialogue.spoken(at_s)

    def inspection(self) -> Inspection:
        """Everything said so far, as it stands now."""
        return self._ledger.inspection()

    def _note_unsafe(self, findings: Iterable[Finding]) -> None:
        """Keep count of the entries graded unsafe: no word alone may soften them."""
        for finding in findings:
            danger = finding.grade is Grade.UNSAFE and not finding.withdrawn
            (self._unsafe.add if danger else self._unsafe.discard)(finding.entry.id)
