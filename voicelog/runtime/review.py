"""Every way to put a log right: each deed appends one line that says who did it, when and why.

Nothing heard is ever overwritten. Front ends with and without a screen use the same deeds.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import replace
from typing import Any

from voicelog.dialogue.at_bench import change_to, confirmed, merged, put_right
from voicelog.dialogue.scene import only_place
from voicelog.domain.entry import Add, Change, Entry, Finding, Kind, Replace, Restore, Withdraw
from voicelog.domain.fact import heard_to_json
from voicelog.domain.heard import Heard
from voicelog.domain.reading import Reading
from voicelog.domain.revision import Signature
from voicelog.domain.slot import Slots
from voicelog.domain.sound import Clip
from voicelog.errors import UsageFault
from voicelog.review.signatures import signed_body
from voicelog.runtime.bench_log import BenchLog, Done


class Review(BenchLog):
    """A log open for reviewing; see :class:`BenchLog` for what it tells.

    Every deed returns what it did, and raises :class:`~voicelog.errors.SofteningFault` where an entry
    that is unsafe no longer would be and no reason is given; :class:`~voicelog.errors.UsageFault`
    where it cannot be done, or the log can only be read; :class:`~voicelog.errors.StorageFault` where
    the disk refuses, and nothing has changed then.
    """

    def correct(
        self,
        entry: str,
        slots: Slots,
        *,
        drop: Collection[str] = (),
        kind: Kind | None = None,
        reason: str | None = None,
        why: str = "",
    ) -> Done:
        """Slots said anew or dropped, and what follows from them.

        Args:
            entry: its id.
            slots: those that are known better now, in the slots' own units.
            drop: slots that are not known after all.
            kind: what it is instead.
            reason: why the place could not be looked at.
            why: the reason for the correction.
        """
        return self._commit("correct", self._righted(entry, slots, drop, kind, reason), why)

    def move(self, entries: Sequence[str], place: Slots, *, why: str = "") -> Done:
        """Several entries lie in another place: its slots replace theirs, the rest stays."""
        changes = [change for name in entries for change in self._righted(name, only_place(place))]
        return self._commit("move", changes, why)

    def take(self, entry: str, alternative: int = 0, *, why: str = "") -> Done:
        """Another reading of the same sound in the place of the one that was taken.

        Args:
            entry: its id.
            alternative: number of the reading in :meth:`alternatives`, from 0.
            why: the reason.
        """
        others = self._others(self._standing(entry).id)
        if not 0 <= alternative < len(others):
            told = f"{len(others)} other readings" if others else "no other reading"
            raise UsageFault(f"{entry} has {told}", "Set its slots, or type the sentence anew")
        other = others[alternative]
        asked = [q for q in other.questions if q.slot not in other.slots]
        settled = other if asked else replace(other, doubts=(), questions=())
        return self._commit("runner-up", [Replace(settled)], why)

    def confirm(self, entry: str, *, why: str = "") -> Done:
        """It was looked into and stands as it is: in doubt no longer."""
        return self._commit(
            "confirm", _change(before := self._standing(entry), confirmed(before)), why
        )

    def withdraw(self, *entries: str, why: str = "") -> Done:
        """Entries that hold no longer; they stay in the log, marked so."""
        return self._commit("withdraw", [Withdraw(self._standing(e).id) for e in entries], why)

    def restore(self, *entries: str, why: str = "") -> Done:
        """Entries that were withdrawn and hold after all."""
        for name in entries:
            if not self.finding(name).withdrawn:
                raise UsageFault(f"{name} was never withdrawn, or holds again already")
        return self._commit("restore", [Restore(name) for name in entries], why)

    def reread(
        self, entry: str, said: str | Heard, *, clip: Clip | None = None, why: str = ""
    ) -> Done:
        """The entry's sentence typed or said anew, and read again.

        Args:
            entry: its id.
            said: the words.
            clip: their sound, where they were spoken.
            why: the reason.
        """
        heard, now = _heard(said), self._now()
        reading, changes = self._rereader.for_entry(self._standing(entry), heard, now)
        return self._commit("reread", changes, why, clip=clip, **self._uttered(heard, reading))

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
        place = only_place(self.finding(near).entry.slots) if near is not None else {}
        heard = _heard(said)
        reading, changes = self._rereader.new(heard, self._now(), place)
        return self._commit("add", changes, why, clip=clip, **self._uttered(heard, reading))

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
            return self._log.preview(self._rereader.for_entry(self._standing(entry), heard, now)[1])
        place = only_place(self.finding(near).entry.slots) if near is not None else {}
        return self._log.preview(self._rereader.new(heard, now, place)[1])

    def split(self, entry: str, *, at_word: int | None = None, why: str = "") -> Done:
        """One entry becomes two.

        Args:
            entry: its id.
            at_word: so many words of its text stay with the first; each half is read by itself.
                None: an entry of both sides becomes one for each side, any other a second one like
                it, in doubt until it is put right.
            why: the reason.
        """
        before = self._standing(entry)
        if at_word is not None:
            changes = self._rereader.parted(before, at_word, self._now())
            return self._commit("split", changes, why)
        second = replace(before, id=self._new_id(), runner_up={})
        if before.slots.get("side") == "both":
            first = replace(before, slots={**before.slots, "side": "left"})
            second = replace(second, slots={**second.slots, "side": "right"})
            return self._commit("split", [change_to(before, first), Add(second)], why)
        doubt = f"split from {entry}: say what differs"
        return self._commit("split", [Add(replace(second, doubts=(doubt,)))], why)

    def merge(self, entry: str, other: str, *, why: str = "") -> Done:
        """Two entries of one place become one, the first; the other is withdrawn."""
        if entry == other:
            raise UsageFault(f"{entry} cannot be merged with itself", "Name two entries")
        before, gone = self._standing(entry), self._standing(other)
        changes = [*_change(before, merged(before, gone)), Withdraw(other)]
        return self._commit("merge", changes, why, merging=True)

    def undo(self, *, why: str = "") -> Done:
        """Take the last deed back, whoever did it and when."""
        changes = self._log.undoing()
        return self._commit("undo", changes, why, of=self._log.stacks.done[-1].seq)

    def redo(self, *, why: str = "") -> Done:
        """Do the deed again that was undone last."""
        changes = self._log.redoing()
        return self._commit("redo", changes, why, of=self._log.stacks.undone[-1].seq)

    @property
    def can_undo(self) -> str:
        """The deed that :meth:`undo` takes back; empty when there is none."""
        return self._log.stacks.done[-1].did if self._log.stacks.done else ""

    @property
    def can_redo(self) -> str:
        """The deed that :meth:`redo` does again; empty when there is none."""
        return self._log.stacks.undone[-1].did if self._log.stacks.undone else ""

    def listened(self, entry: str) -> None:
        """Its sound was played to the end; written down once for each utterance."""
        about = self.finding(entry).entry.utterance
        if about not in self._log.listened and not self.read_only:
            self.note("listened", {"utterance": about, "by": self.by})

    def note(self, type: str, body: Mapping[str, Any]) -> None:  # noqa: A002
        """A line that changes no entry.

        Raises:
            StorageFault: the disk refuses.
        """
        self._write(type, body)

    def sign(self, *, by: str = "", why: str = "") -> Signature:
        """Sign the log as it stands now: what is changed later shows as changed after signing.

        Args:
            by: who signs; the reviewer when empty.
            why: why it is signed all the same, needed where something is unresolved.

        Raises:
            UsageFault: something is unresolved and no reason is given.
        """
        lines, sha256 = self._writable.sealed()
        body = signed_body(
            by or self.by, lines=lines, sha256=sha256, unresolved=self.open_points(), why=why
        )
        self.note("signed", body)
        return self.signatures()[-1]

    def _standing(self, name: str) -> Entry:
        """An entry that holds, as it was kept.

        Raises:
            UsageFault: there is none, or it was withdrawn.
        """
        if self.finding(name).withdrawn:
            raise UsageFault(f"{name} was withdrawn", "Restore it first")
        return self._kept(name)

    def _righted(
        self,
        name: str,
        slots: Slots,
        drop: Collection[str] = (),
        kind: Kind | None = None,
        reason: str | None = None,
    ) -> list[Change]:
        before, zone_map = self._standing(name), self.grammar.zone_map
        after = put_right(before, slots, zone_map, drop=drop, kind=kind, reason=reason)
        return _change(before, after)

    def _new_id(self) -> str:
        return f"e{self._writable.next_seq}.1"

    def _uttered(self, heard: Heard, reading: Reading) -> dict[str, Any]:
        """What the line says of words typed or said now."""
        return {
            "utterance": self._now().utterance, "heard": heard_to_json(heard),
            "reading": {"text": reading.text, "score": reading.score, "margin": reading.margin},
        }  # fmt: skip


def _change(before: Entry, after: Entry) -> list[Change]:
    """What makes the one the other; nothing where they are the same."""
    return [change_to(before, after)] if after != before else []


def _heard(said: str | Heard) -> Heard:
    heard = Heard.typed(said.strip()) if isinstance(said, str) else said
    if not heard.text.strip():
        raise UsageFault("There are no words", "Type the sentence as it should have been heard")
    return heard
