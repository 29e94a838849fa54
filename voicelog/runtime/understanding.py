"""What was heard, made into entries: reader, dialogue and ledger as one."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace

from voicelog.config.grammar import Grammar
from voicelog.config.settings import Settings
from voicelog.dialogue.ask import Ask, AskPolicy
from voicelog.dialogue.dialogue import Dialogue, Turn
from voicelog.domain.entry import Change, Finding, Inspection
from voicelog.domain.fact import Fact, changes_of
from voicelog.domain.heard import Heard
from voicelog.domain.opinion import Opinion, Verdict
from voicelog.domain.reading import Reading
from voicelog.domain.uncollected import uncollected
from voicelog.findings.ledger import Ledger
from voicelog.interpret.reader import Reader
from voicelog.runtime.both_ears import Before, Judged, Played, judge, verdict_of
from voicelog.runtime.dangers import Dangers, unsoftened
from voicelog.runtime.second_opinion import Trade, joint_reading, reason_to_ask

Second = Callable[[], tuple[Heard | None, float]]
"""Has a second ear hear the utterance at hand: what it heard, None where it failed, and the seconds
that took."""


@dataclass(frozen=True, slots=True)
class Understood:
    """One utterance: how it was read, what it changed, the entries it touched, and what a second
    ear had to say to it.
    """

    reading: Reading
    turn: Turn
    findings: tuple[Finding, ...]
    opinion: Opinion | None = None


@dataclass(frozen=True, slots=True)
class Taken:
    """An utterance that was taken, so that a second ear can be weighed against it later."""

    before: Before
    first: Played
    heard: Heard


class Understanding:
    """Remembers the inspection so far; does no input or output.

    Args:
        settings: in force.
        grammar: words, map and rules in force.
        ask_s: seconds in which a question can be answered; None asks nothing.
        reader: for this grammar and this speaker, if there is one already; it remembers nothing.
    """

    def __init__(
        self,
        settings: Settings,
        grammar: Grammar,
        ask_s: float | None,
        *,
        reader: Reader | None = None,
    ) -> None:
        self._reader = reader or Reader(
            grammar.vocabulary, grammar.zone_map, speech=settings.speech
        )
        self._dialogue = Dialogue(
            grammar.zone_map, rails=settings.rails, speech=settings.speech,
            asks=AskPolicy(ask_s) if ask_s is not None else None,
        )  # fmt: skip
        self._ledger = Ledger(grammar.zone_map, grammar.rules, settings.rails)
        self._dangers = Dangers()
        self._vocabulary = grammar.vocabulary
        self._trade: Trade | None = None
        self.taken: Taken | None = None

    @property
    def question(self) -> Ask | None:
        """The question that is open, if any."""
        return self._dialogue.question

    def warm(self) -> None:
        """Build what the first reading would have to build, so that nobody waits for it."""
        self._reader.read(Heard.typed("left front rail, surface rust"))

    def resume(self, facts: Iterable[Fact]) -> None:
        """Take up what a log already holds; the place has to be named anew."""
        known = tuple(facts)
        with uncollected():
            self._ledger.miss(known)
            for fact in known:
                self._ledger.take(changes_of(fact))
            self._dialogue.resume((c, fact.offset_s) for fact in known for c in changes_of(fact))
            self._dangers.note(self.inspection().findings)

    def take(
        self,
        heard: Heard,
        *,
        utterance: str,
        at: str,
        at_s: float,
        began_s: float,
        second: Second | None = None,
    ) -> Understood:
        """What the words of one utterance do.

        Args:
            heard: the words.
            utterance: its id.
            at: wall-clock time, RFC 3339.
            at_s: when it ended, in seconds of the inspection.
            began_s: when it began.
            second: asked at once where that can change something, and heeded.
        """
        reading, opinion = self._reader.read(heard), None
        before = Before(self._dialogue.copy(), utterance, at, at_s, began_s, self._dangers.copy())
        if second is not None:
            reading, opinion = self._with_second(reading, heard, before, second)
        turn = self._dialogue.take(
            reading, utterance=utterance, at=at, at_s=at_s, began_s=began_s, unsafe=self._dangers
        )
        self.taken = Taken(before, Played(reading, turn, self._dialogue.touched), heard)
        findings = self._ledger.apply(turn.changes)
        self._dangers.note(findings)
        return Understood(reading, turn, findings, opinion)

    def reason(self, understood: Reading, findings: Iterable[Finding]) -> str:
        """Why a second ear could change something about an utterance; empty where it could not."""
        self._trade = self._trade or Trade.of(self._vocabulary)
        return reason_to_ask(understood, findings, self._trade)

    def judge(self, taken: Taken, second: Heard) -> Judged:
        """What a second ear says to an utterance taken before; what was touched since stands."""
        judged = judge(self._reader, taken.before, taken.first, taken.heard, second)
        if all(map(self._dialogue.knows, taken.first.entries)):
            return judged
        return replace(judged, changes=(), ask=None)

    def may_ask(self, ask: Ask) -> bool:
        """True where what a second ear heard can be proposed now."""
        return self._dialogue.may_offer(ask)

    def heed(self, changes: Iterable[Change], ask: Ask | None, at_s: float) -> bool:
        """Take in what a second ear said; True where it raises a question to be said aloud."""
        changes = tuple(changes)
        self._dialogue.note(changes, at_s)
        self._dangers.note(self._ledger.apply(changes))
        return ask is not None and self._dialogue.offer(ask, at_s)

    def graded(self, changes: Iterable[Change]) -> tuple[Finding, ...]:
        """The entries that changes would touch, as they would stand."""
        return self._ledger.preview(changes)

    def _with_second(
        self, reading: Reading, heard: Heard, before: Before, ask: Second
    ) -> tuple[Reading, Opinion | None]:
        """The reading that counts, and what the second ear had to do with it."""
        first = before.play(reading)
        findings = self._ledger.preview(first.turn.changes)
        reason = self.reason(reading, findings) if first.turn.keep else ""
        if not reason:
            return reading, None
        second, took_s = ask()
        if second is None:
            return reading, Opinion(reason, Verdict.FAILED, None, took_s)
        if not second.hypotheses:
            return reading, Opinion(reason, Verdict.NOTHING, second, took_s)
        joint = before.play(joint_reading(self._reader, reading, heard, second))
        alone = before.play(self._reader.read(second))
        opinion = Opinion(reason, verdict_of(first, joint, alone, before.utterance), second, took_s)
        return unsoftened(first, joint, self._ledger, self._dangers), opinion

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
