"""Deeds at the bench that begin with words: a sentence typed or said anew, an entry added."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from voicelog.dialogue.scene import only_place
from voicelog.domain.entry import Change, Entry, Finding, Replace
from voicelog.domain.heard import Heard, heard_to_json
from voicelog.domain.reading import Reading
from voicelog.domain.slot import Slots
from voicelog.domain.sound import Clip
from voicelog.errors import UsageFault
from voicelog.runtime.bench_log import BenchLog, Done
from voicelog.tongue import worded

if TYPE_CHECKING:
    from voicelog.runtime.rereading import Now


class Sentences(BenchLog):
    """A log whose sentences can be put right; see :class:`~voicelog.runtime.review.Review`."""

    def reread(
        self, entry: str, said: str | Heard, *, clip: Clip | None = None, why: str = ""
    ) -> Done:
        """The entry's sentence typed or said anew, and read again.

        What the probe did a sentence later, and still holds, holds on.

        Args:
            entry: its id.
            said: the words.
            clip: their sound, where they were spoken.
            why: the reason.
        """
        heard, now = _heard(said), self._now()
        reading, changes = self._read_anew(entry, heard, now)
        return self._commit("reread", changes, why, clip=clip, **_uttered(now, heard, reading))

    def add(
        self, said: str | Heard, *, near: str | None = None, clip: Clip | None = None, why: str = ""
    ) -> Done:
        """A new entry from a sentence typed or said now.

        Args:
            said: the words.
            near: an entry whose place counts where the words name none.
            clip: their sound, where they were spoken.
            why: the reason.
        """
        heard, now = _heard(said), self._now()
        reading, changes = self._rereader.new(heard, now, self._place(near))
        return self._commit("add", changes, why, clip=clip, **_uttered(now, heard, reading))

    def read_as(
        self, said: str | Heard, *, entry: str | None = None, near: str | None = None
    ) -> tuple[Finding, ...]:
        """The entries that words would make, graded; nothing is written.

        Args:
            said: the words.
            entry: the entry that they would be read for, as :meth:`reread` does; None for new ones.
            near: as for :meth:`add`.
        """
        heard, now = _heard(said), self._now()
        if entry is not None:
            return self._log.preview(self._read_anew(entry, heard, now)[1])
        return self._log.preview(self._rereader.new(heard, now, self._place(near))[1])

    def _read_anew(self, name: str, heard: Heard, now: Now) -> tuple[Reading, list[Change]]:
        """What words make of an entry; what was said of it later and still stands is kept."""
        before = self._standing(name)
        reading, changes = self._rereader.for_entry(before, heard, now)
        return reading, [
            Replace(self._with_late(before, change.entry))
            if isinstance(change, Replace)
            else change
            for change in changes
        ]

    def _place(self, near: str | None) -> Slots:
        return {} if near is None else only_place(self.finding(near).entry.slots)

    def _standing(self, name: str) -> Entry:
        """An entry that holds, as it was kept.

        Raises:
            UsageFault: there is none, or it was withdrawn.
        """
        if self.finding(name).withdrawn:
            raise UsageFault(worded("{name} was withdrawn", name=name), worded("Restore it first"))
        return self._kept(name)


def _uttered(now: Now, heard: Heard, reading: Reading) -> dict[str, Any]:
    """What the line says of words typed or said now."""
    return {
        "utterance": now.utterance, "heard": heard_to_json(heard),
        "reading": {"text": reading.text, "score": reading.score, "margin": reading.margin},
    }  # fmt: skip


def _heard(said: str | Heard) -> Heard:
    heard = Heard.typed(said.strip()) if isinstance(said, str) else said
    if not heard.text.strip():
        raise UsageFault(
            worded("There are no words"), worded("Type the sentence as it should have been heard")
        )
    return heard
