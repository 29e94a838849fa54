"""What one utterance did, and where its time went."""

from __future__ import annotations

from dataclasses import dataclass

from voicelog.dialogue.dialogue import Turn
from voicelog.domain.entry import Finding
from voicelog.domain.heard import Heard
from voicelog.domain.opinion import Opinion
from voicelog.domain.reading import Act, Reading


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
        opinion: a second ear's, where it was asked before anything was done (recordings only).
    """

    utterance: str
    heard: Heard
    reading: Reading
    turn: Turn
    findings: tuple[Finding, ...]
    timing: Timing
    opinion: Opinion | None = None


def only_affirms(event: Event) -> bool:
    """It is no answer to another question, and says nothing else."""
    turn = event.turn
    return turn.act is Act.AFFIRM and turn.closed is None and not turn.changes
