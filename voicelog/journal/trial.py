"""A journal that is only tried out: what would be written to it, and nothing on the disk."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from typing import Any

from voicelog.domain.fact import Fact
from voicelog.domain.sound import Clip
from voicelog.journal import clock
from voicelog.journal.lines import decode, encode
from voicelog.journal.seal import seal_of


class TrialJournal:
    """Stands for an open :class:`~voicelog.journal.journal.Journal`, and needs no lock.

    Args:
        folder: the log's.
        last: its newest fact.
    """

    def __init__(self, folder: Path, last: Fact) -> None:
        self._folder, self._last = folder, last

    @property
    def next_seq(self) -> int:
        """The number that the next fact would get."""
        return self._last.seq + 1

    def append(self, type: str, body: Mapping[str, Any]) -> Fact:  # noqa: A002
        """The fact as a reader would see it, refused as a journal would refuse it.

        Raises:
            InputFault: when it is too long.
            TypeError, ValueError: when the body is not JSON or holds a key of the envelope.
        """
        at, last = clock.rfc3339(clock.utc_now()), self._last
        line = encode(Fact(self.next_seq, at, last.offset_s, last.prev, type, body))
        self._last = decode(line, self.next_seq)
        return self._last

    def keep_clip(self, utterance: str, clip: Clip) -> dict[str, Any]:  # noqa: ARG002
        """Nothing: no sound is kept."""
        return {}

    def sealed(self) -> tuple[int, str]:
        """How many lines lie on the disk, and what they come to."""
        seal = seal_of(self._folder)
        return seal.lines, seal.sha256

    def close(self) -> None:
        """Nothing is held."""
