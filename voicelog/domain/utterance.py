"""One utterance as its log kept it: what was heard, how it was read, where its sound lies."""

from __future__ import annotations

from dataclasses import dataclass

from voicelog.domain.heard import Heard
from voicelog.domain.opinion import Opinion


@dataclass(frozen=True, slots=True)
class KeptClip:
    """The sound of an utterance.

    Args:
        file: path inside the log's folder, ``/`` between folders.
        duration_s: its length in seconds.
        start_s: where it begins in its source, in seconds.
        sha256: of the file, lower-case hexadecimal.
    """

    file: str
    duration_s: float
    start_s: float = 0.0
    sha256: str = ""


@dataclass(frozen=True, slots=True)
class Utterance:
    """One utterance.

    Args:
        id: ``u<seq>``.
        at: when its line was written, RFC 3339, UTC.
        offset_s: the same in seconds since the log was opened.
        heard: what the ear made of it.
        reading: the hypothesis that was read.
        clip: its sound; None where none was kept, or it was erased.
        second: what a second ear made of it; None where none was asked.
        lost: what became of sound that was kept and is not there any more, for example ``its sound
            was erased on 2026-03-14``; else empty.
    """

    id: str
    at: str
    offset_s: float
    heard: Heard
    reading: str = ""
    clip: KeptClip | None = None
    second: Opinion | None = None
    lost: str = ""

    @property
    def typed(self) -> bool:
        """True where nobody spoke: the words come from a keyboard."""
        return self.heard.engine == "typed"
