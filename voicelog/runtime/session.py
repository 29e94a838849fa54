"""One inspection as it runs: an utterance in, what became of it out, the log kept on the way."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, replace
from datetime import UTC, datetime, timedelta
from pathlib import Path
from time import perf_counter
from types import TracebackType
from typing import Any

from voicelog.config.grammar import Grammar
from voicelog.config.settings import Settings
from voicelog.dialogue.ask import Ask, AskPolicy
from voicelog.dialogue.dialogue import Dialogue
from voicelog.domain.entry import Finding, Inspection
from voicelog.domain.fact import Fact
from voicelog.domain.grade import Grade
from voicelog.domain.heard import Heard
from voicelog.domain.sound import Clip
from voicelog.findings.ledger import Ledger, changes_of
from voicelog.interpret.reader import Reader
from voicelog.journal.journal import Journal
from voicelog.recognise.port import Ear, hear_clip
from voicelog.runtime.event import Event, Timing
from voicelog.runtime.utterance_fact import utterance_body


@dataclass(frozen=True, slots=True)
class _Due:
    """An utterance that was taken and is not on disk yet."""

    event: Event
    clip: Clip | None
    kept: Mapping[str, Any] | None


class Session:
    """Everything between an utterance and its entry, for one inspection.

    Args:
        settings: in force.
        grammar: words, map and rules in force.
        journal: where facts and clips are kept; None keeps nothing.
        ear: the recogniser, for sound.
        now: wall clock of a moment of the inspection, from seconds since its start.
        ask_s: seconds in which a question can be answered; None asks nothing (a recording cannot
            answer).
    """

    def __init__(
        self,
        settings: Settings,
        grammar: Grammar,
        *,
        journal: Journal | None = None,
        ear: Ear | None = None,
        now: Callable[[float], datetime] | None = None,
        ask_s: float | None = None,
    ) -> None:
        self.grammar, self.journal, self.ear = grammar, journal, ear
        begun = datetime.now(UTC)
        self._now = now or (lambda at_s: begun + timedelta(seconds=at_s))
        self._reader = Reader(grammar.vocabulary, grammar.zone_map, speech=settings.speech)
        self._dialogue = Dialogue(
            grammar.zone_map, rails=settings.rails, speech=settings.speech,
            asks=AskPolicy(ask_s) if ask_s is not None else None,
        )  # fmt: skip
        self._ledger = Ledger(grammar.zone_map, grammar.rules, settings.rails)
        self._unsafe: set[str] = set()
        self._count = 1
        self._standing_by = False
        self._due: _Due | None = None

    def __enter__(self) -> Session:
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        if self.ear is not None:
            self.ear.close()
        if self.journal is not None:
            self.journal.close()

    def warm(self) -> None:
        """Build what the first reading would have to build, so that nobody waits for it."""
        self._reader.read(Heard.typed("left front rail, surface rust"))

    def resume(self, facts: Iterable[Fact]) -> None:
        """Take up what a log already holds; the place has to be named anew."""
        changes = [(change, fact.offset_s) for fact in facts for change in changes_of(fact)]
        self._ledger.take(change for change, _ in changes)
        self._dialogue.resume(changes)
        self._note_unsafe(self.inspection().findings)

    def hear(self, clip: Clip, *, offset_s: float = 0.0, heard: Heard | None = None) -> Event:
        """One utterance of sound; its clip is on disk before its words are read.

        Args:
            clip: the sound.
            offset_s: where its source begins, in seconds of the inspection.
            heard: what the ear made of just this clip, where it was asked before.

        Raises:
            StorageFault: the disk refuses. Either nothing was done and the same clip may be given
                again, or (:attr:`is_due`) it was taken and :meth:`settle` writes it down.
        """
        if self.ear is None:
            raise ValueError("a session without an ear cannot hear")
        utterance = self._next_id()
        begun = perf_counter()
        kept = None if self._standing_by else self._keep(utterance, clip)
        wrote_s = perf_counter() - begun
        begun = perf_counter()
        heard = heard or hear_clip(self.ear, clip)
        spent = Timing(perf_counter() - begun, 0.0, wrote_s)
        return self._take(
            utterance, heard, offset_s + clip.speech_end_s, spent,
            began_s=offset_s + clip.start_s, clip=clip, kept=kept,
        )  # fmt: skip

    def read(self, text: str, *, at_s: float) -> Event:
        """One utterance of text, at so many seconds of the inspection.

        Raises:
            StorageFault: as for :meth:`hear`.
        """
        return self._take(self._next_id(), Heard.typed(text), at_s, Timing(), began_s=at_s)

    @property
    def folder(self) -> Path | None:
        """The log's; None when nothing is kept."""
        return self.journal.folder if self.journal is not None else None

    @property
    def is_due(self) -> bool:
        """True while an utterance was taken that the disk refused."""
        return self._due is not None

    def settle(self) -> Event:
        """Write down what the disk refused before.

        Raises:
            StorageFault: it still refuses.
        """
        if self._due is None:
            raise ValueError("nothing is due")
        due, begun = self._due, perf_counter()
        if due.event.turn.keep:
            self._write(due)
            self._count += 1
        self._standing_by, self._due = due.event.turn.standing_by, None
        spent = due.event.timing
        wrote_s = spent.write_s + perf_counter() - begun
        return replace(due.event, timing=replace(spent, write_s=wrote_s))

    def lapse(self, at_s: float) -> Ask | None:
        """The question whose time has just run out, if there is one."""
        asked = self.question
        return asked if self._dialogue.lapse(at_s) else None

    @property
    def question(self) -> Ask | None:
        """The question that is open, if any."""
        return self._dialogue.question

    def asked(self, at_s: float) -> None:
        """The open question has been said to its end: the time to answer it begins now."""
        self._dialogue.spoken(at_s)

    def note(self, type: str, body: Mapping[str, Any]) -> None:  # noqa: A002
        """A fact that is no utterance: lost sound, cautions affirmed, a stop.

        Raises:
            StorageFault: the disk refuses.
        """
        if self.journal is not None:
            self.journal.append(type, body)

    def now_s(self) -> float:
        """Seconds of the inspection, as its log counts them."""
        return self.journal.offset_s if self.journal is not None else 0.0

    def inspection(self) -> Inspection:
        """Everything said so far, as it stands now."""
        return self._ledger.inspection()

    def close(self, reason: str) -> None:
        """Write down that the inspection ended."""
        self.note("closed", {"reason": reason})

    def _next_id(self) -> str:
        if self._due is not None:
            raise ValueError("what is due has to be settled first")
        return f"u{self.journal.next_seq if self.journal is not None else self._count}"

    def _keep(self, utterance: str, clip: Clip) -> Mapping[str, Any] | None:
        return None if self.journal is None else self.journal.keep_clip(utterance, clip)

    def _take(
        self,
        utterance: str,
        heard: Heard,
        at_s: float,
        spent: Timing,
        *,
        began_s: float,
        clip: Clip | None = None,
        kept: Mapping[str, Any] | None = None,
    ) -> Event:
        begun = perf_counter()
        reading = self._reader.read(heard)
        at = self._now(at_s).isoformat(timespec="milliseconds").replace("+00:00", "Z")
        turn = self._dialogue.take(
            reading, utterance=utterance, at=at, at_s=at_s, began_s=began_s, unsafe=self._unsafe
        )
        findings = self._ledger.apply(turn.changes)
        self._note_unsafe(findings)
        timing = replace(spent, read_s=perf_counter() - begun)
        event = Event(utterance, heard, reading, turn, findings, timing)
        self._due = _Due(event, clip, kept)
        return self.settle()

    def _note_unsafe(self, findings: Iterable[Finding]) -> None:
        """Keep count of the entries graded unsafe: no word alone may soften them."""
        for finding in findings:
            danger = finding.grade is Grade.UNSAFE and not finding.withdrawn
            (self._unsafe.add if danger else self._unsafe.discard)(finding.entry.id)

    def _write(self, due: _Due) -> None:
        if self.journal is None:
            return
        event, kept = due.event, due.kept
        body = utterance_body(
            event.utterance, event.heard, event.reading, event.turn, event.findings
        )
        if kept is None and due.clip is not None:
            kept = self._keep(event.utterance, due.clip)
        self.journal.append("utterance", body if kept is None else body | {"clip": kept})
