"""One inspection as it runs: an utterance in, what became of it out, the log kept on the way."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from datetime import UTC, datetime, timedelta
from pathlib import Path
from time import perf_counter
from types import TracebackType
from typing import Any

from voicelog.config.grammar import Grammar
from voicelog.config.settings import Settings
from voicelog.domain.entry import Inspection
from voicelog.domain.heard import Heard
from voicelog.domain.sound import Clip
from voicelog.errors import EarFault, InputFault
from voicelog.journal.journal import Journal
from voicelog.recognise.port import Ear, hear_clip
from voicelog.runtime.attention import attention_words, since_attention
from voicelog.runtime.event import Event, Timing
from voicelog.runtime.expecting import expected
from voicelog.runtime.second_ear import SecondEar
from voicelog.runtime.understanding import Second, Understanding
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
        second: hears once more, before anything is done, what it can change something about: of
            recordings, where nobody waits.
        told: called with a sentence on what a person should know of it.
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
        second: SecondEar | None = None,
        told: Callable[[str], None] = lambda _text: None,
    ) -> None:
        self.grammar, self.journal, self.ear = grammar, journal, ear
        self._second, self._tell = second, told
        begun = datetime.now(UTC)
        self._now = now or (lambda at_s: begun + timedelta(seconds=at_s))
        self.understanding = Understanding(settings, grammar, ask_s)
        self._attention = attention_words(grammar.vocabulary)
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
        for ear in (self.ear, self._second):
            if ear is not None:
                ear.close()
        if self.journal is not None:
            self.journal.close()

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
        clip = _within(clip, offset_s)
        begun = perf_counter()
        kept = None if self._standing_by else self._keep(utterance, clip)
        wrote_s = perf_counter() - begun
        begun = perf_counter()
        heard = heard or hear_clip(self.ear, clip)
        spent = Timing(perf_counter() - begun, 0.0, wrote_s)
        return self._take(
            utterance, heard, clip.speech_end_s, spent,
            began_s=clip.start_s, clip=clip, kept=kept,
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
    def told_of_log(self) -> tuple[str, ...]:
        """What was found when its log was opened and a person should know, one sentence each."""
        return self.journal.told if self.journal is not None else ()

    @property
    def is_due(self) -> bool:
        """True while an utterance was taken that the disk refused."""
        return self._due is not None

    def settle(self) -> Event:
        """Write down what the disk refused before.

        Raises:
            StorageFault: it still refuses.
            InputFault: it can never be written; it is let go.
        """
        if self._due is None:
            raise ValueError("nothing is due")
        due, begun = self._due, perf_counter()
        if due.event.turn.keep:
            try:
                self._write(due)
            except InputFault:
                self._due = None
                raise
            self._count += 1
        self._standing_by, self._due = due.event.turn.standing_by, None
        if self.ear is not None:
            question = self.understanding.question
            self.ear.expect(expected(self.grammar.vocabulary, due.event.turn, question))
        spent = due.event.timing
        wrote_s = spent.write_s + perf_counter() - begun
        return replace(due.event, timing=replace(spent, write_s=wrote_s))

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
        return self.understanding.inspection()

    def close(self, reason: str) -> None:
        """Write down that the inspection ended."""
        self.note("closed", {"reason": reason})

    def _next_id(self) -> str:
        if self._due is not None:
            raise ValueError("what is due has to be settled first")
        return f"u{self.journal.next_seq if self.journal is not None else self._count}"

    def _second_of(self, clip: Clip | None) -> Second | None:
        """Has the second ear hear a clip; nothing where there is none, or nothing may be kept."""
        second = self._second
        if second is None or clip is None or self._standing_by:
            return None

        def hear() -> tuple[Heard | None, float]:
            begun, heard = perf_counter(), None
            try:
                heard = second.hear(clip)
            except EarFault as fault:
                self._second = None
                second.close()
                self._tell(str(fault))
            return heard, perf_counter() - begun

        return hear

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
        if self._standing_by:
            heard, spoke_before = since_attention(heard, self._attention)
            clip = None if spoke_before else clip  # words that were not for the log
        at = self._now(at_s).isoformat(timespec="milliseconds").replace("+00:00", "Z")
        done = self.understanding.take(
            heard, utterance=utterance, at=at, at_s=at_s, began_s=began_s,
            second=self._second_of(clip),
        )  # fmt: skip
        timing = replace(spent, read_s=perf_counter() - begun)
        event = Event(
            utterance, heard, done.reading, done.turn, done.findings, timing, done.opinion
        )
        self._due = _Due(event, clip, kept)
        return self.settle()

    def _write(self, due: _Due) -> None:
        if self.journal is None:
            return
        event, kept = due.event, due.kept
        body = utterance_body(
            event.utterance, event.heard, event.reading, event.turn, event.findings, event.opinion
        )
        if kept is None and due.clip is not None:
            kept = self._keep(event.utterance, due.clip)
        self.journal.append("utterance", body if kept is None else body | {"clip": kept})


def _within(clip: Clip, offset_s: float) -> Clip:
    """The clip with its times counted from the beginning of the inspection."""
    begin_s, end_s = clip.start_s + offset_s, clip.speech_end_s + offset_s
    return replace(clip, start_s=max(0.0, begin_s), speech_end_s=max(0.0, end_s))
