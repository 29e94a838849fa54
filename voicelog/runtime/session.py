"""One inspection as it runs: an utterance in, what became of it out, the log kept on the way."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from time import perf_counter
from types import TracebackType
from typing import Any

from voicelog.config.grammar import Grammar
from voicelog.config.settings import Settings
from voicelog.dialogue.dialogue import Dialogue, Turn
from voicelog.domain.entry import Finding, Inspection
from voicelog.domain.fact import change_to_json, heard_to_json
from voicelog.domain.heard import Heard
from voicelog.domain.reading import Act, Reading
from voicelog.domain.sound import Clip
from voicelog.findings.ledger import Ledger
from voicelog.interpret.reader import Reader
from voicelog.journal.journal import Journal
from voicelog.recognise.port import Ear, hear_clip


@dataclass(frozen=True, slots=True)
class Timing:
    """Where the time of one utterance went, in seconds.

    Args:
        decode_s: the ear, from the end of the utterance to its text.
        read_s: reading, dialogue and grading.
        write_s: clip and fact on disk, fsync included.
    """

    decode_s: float = 0.0
    read_s: float = 0.0
    write_s: float = 0.0

    @property
    def total_s(self) -> float:
        """From the end of the utterance to the entry on disk."""
        return self.decode_s + self.read_s + self.write_s


@dataclass(frozen=True, slots=True)
class Event:
    """What one utterance did.

    Args:
        utterance: its id.
        heard: what the ear made of it.
        reading: how it was understood.
        turn: what it changed.
        findings: the entries it touched, as they stand now.
        timing: where its time went.
    """

    utterance: str
    heard: Heard
    reading: Reading
    turn: Turn
    findings: tuple[Finding, ...]
    timing: Timing


class Session:
    """Everything between an utterance and its entry, for one inspection.

    Args:
        settings: in force.
        grammar: words, map and rules in force.
        journal: where facts and clips are kept; None keeps nothing.
        ear: the recogniser, for sound.
        now: wall clock of a moment of the inspection, from seconds since its start.
    """

    def __init__(
        self,
        settings: Settings,
        grammar: Grammar,
        *,
        journal: Journal | None = None,
        ear: Ear | None = None,
        now: Callable[[float], datetime] | None = None,
    ) -> None:
        self.grammar, self.journal, self.ear = grammar, journal, ear
        begun = datetime.now(UTC)
        self._now = now or (lambda at_s: begun + timedelta(seconds=at_s))
        self._reader = Reader(grammar.vocabulary, grammar.zone_map, speech=settings.speech)
        self._dialogue = Dialogue(grammar.zone_map, rails=settings.rails, speech=settings.speech)
        self._ledger = Ledger(grammar.zone_map, grammar.rules, settings.rails)
        self._count = 1
        self._standing_by = False

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

    def hear(self, clip: Clip, *, offset_s: float = 0.0) -> Event:
        """One utterance of sound; its clip is on disk before its words are read.

        Args:
            clip: the sound.
            offset_s: where its source begins, in seconds of the inspection.
        """
        if self.ear is None:
            raise ValueError("a session without an ear cannot hear")
        utterance = self._next_id()
        begun = perf_counter()
        kept = None if self._standing_by else self._keep(utterance, clip)
        wrote_s = perf_counter() - begun
        begun = perf_counter()
        heard = hear_clip(self.ear, clip)
        decode_s = perf_counter() - begun
        return self._take(
            utterance, heard, offset_s + clip.speech_end_s, clip, kept, Timing(decode_s, 0, wrote_s)
        )

    def read(self, text: str, *, at_s: float) -> Event:
        """One utterance of text, at so many seconds of the inspection."""
        return self._take(self._next_id(), Heard.typed(text), at_s, None, None, Timing())

    def inspection(self) -> Inspection:
        """Everything said so far, as it stands now."""
        return self._ledger.inspection()

    def close(self, reason: str) -> None:
        """Write down that the inspection ended."""
        if self.journal is not None:
            self.journal.append("closed", {"reason": reason})

    def _next_id(self) -> str:
        return f"u{self.journal.next_seq if self.journal is not None else self._count}"

    def _keep(self, utterance: str, clip: Clip) -> dict[str, Any] | None:
        return None if self.journal is None else self.journal.keep_clip(utterance, clip)

    def _take(
        self,
        utterance: str,
        heard: Heard,
        at_s: float,
        clip: Clip | None,
        kept: dict[str, Any] | None,
        spent: Timing,
    ) -> Event:
        begun = perf_counter()
        reading = self._reader.read(heard)
        at = self._now(at_s).isoformat(timespec="milliseconds").replace("+00:00", "Z")
        turn = self._dialogue.take(reading, utterance=utterance, at=at, at_s=at_s)
        findings = self._ledger.apply(turn.changes)
        read_s = perf_counter() - begun
        begun = perf_counter()
        if turn.keep:
            if kept is None and clip is not None:
                kept = self._keep(utterance, clip)
            self._write(utterance, heard, reading, turn, kept)
            self._count += 1
        self._standing_by = turn.standing_by
        write_s = spent.write_s + perf_counter() - begun
        timing = Timing(spent.decode_s, read_s, write_s)
        return Event(utterance, heard, reading, turn, findings, timing)

    def _write(
        self,
        utterance: str,
        heard: Heard,
        reading: Reading,
        turn: Turn,
        kept: dict[str, Any] | None,
    ) -> None:
        if self.journal is None:
            return
        body: dict[str, Any] = {
            "utterance": utterance,
            "heard": heard_to_json(heard),
            "reading": {
                "text": reading.text, "score": reading.score, "margin": reading.margin,
                "acts": [str(statement.act) for statement in reading.statements],
            },
            "changes": [change_to_json(change) for change in turn.changes],
        }  # fmt: skip
        if turn.runner_up:
            body["reading"]["runner_up"] = [change_to_json(change) for change in turn.runner_up]
        if kept is not None:
            body["clip"] = kept
        self.journal.append("utterance", body)


def finished(event: Event) -> bool:
    """True when the utterance asked for the end of the inspection."""
    return event.turn.finished or event.turn.act is Act.FINISH
