"""Every way to put a log right: each deed appends one line that says who did it, when and why.

Nothing heard is ever overwritten. Front ends with and without a screen use the same deeds.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import replace
from typing import Any

from voicelog.dialogue.at_bench import change_to, confirmed, merged, put_right
from voicelog.domain.entry import Add, Change, Entry, Kind, Replace, Restore, Withdraw, entry_id
from voicelog.domain.revision import Revision, Signature
from voicelog.domain.slot import PLACE_SLOTS, Slots
from voicelog.errors import UsageFault
from voicelog.review.signatures import signed_body
from voicelog.runtime.bench_log import Done
from voicelog.runtime.sentences import Sentences
from voicelog.tongue import worded, worded_many


class Review(Sentences):
    """A log open for reviewing; see :class:`~voicelog.runtime.bench_view.BenchView` for what it tells.

    Every deed returns what it did, and raises :class:`~voicelog.errors.SofteningFault` where an entry
    that is unsafe no longer would be and no reason is given; :class:`~voicelog.errors.UsageFault`
    where it cannot be done; :class:`~voicelog.errors.LockedFault` or
    :class:`~voicelog.errors.StorageFault` where the log can only be read, or the disk refuses. Nothing
    has changed then.
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
        """Several entries lie in another place: its slots replace theirs, the rest stays.

        Raises:
            UsageFault: no entry or place is named, or a slot is not of a place.
        """
        other = [name for name in place if name not in PLACE_SLOTS]
        if other or not place or not entries:
            raise UsageFault(
                worded("{slot} is not a part of a place", slot=other[0])
                if other
                else worded("Nothing is named to move"),
                worded(
                    "Name entries, and some of {place_slots}", place_slots=", ".join(PLACE_SLOTS)
                ),
            )
        changes = [change for name in entries for change in self._righted(name, place)]
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
            raise UsageFault(
                worded_many(
                    "{entry} has {count} other reading",
                    "{entry} has {count} other readings",
                    len(others),
                    entry=entry,
                )
                if others
                else worded("{entry} has no other reading", entry=entry),
                worded("Set its slots, or type the sentence anew"),
            )
        other = others[alternative]
        asked = [q for q in other.questions if q.slot not in other.slots]
        settled = other if asked else replace(other, doubts=(), questions=())
        return self._commit("runner-up", [Replace(settled)], why)

    def confirm(self, entry: str, *, why: str = "") -> Done:
        """It was looked into and stands as it is, in doubt no longer.

        What was unsafe once and is milder or withdrawn may be confirmed without a doubt as well.
        """
        if entry in self.softened():
            return self._commit("confirm", self._stands(entry), why, deciding=True)
        return self._commit(
            "confirm", _change(before := self._standing(entry), confirmed(before)), why
        )

    def _stands(self, entry: str) -> list[Change]:
        """The entry as it is, in doubt no longer, said once more: somebody decided on it."""
        if self.finding(entry).withdrawn:
            return [Withdraw(entry)]
        return [Replace(confirmed(self._standing(entry)))]

    def withdraw(self, *entries: str, why: str = "") -> Done:
        """Entries that hold no longer; they stay in the log, marked so."""
        return self._commit("withdraw", [Withdraw(self._standing(e).id) for e in entries], why)

    def restore(self, *entries: str, why: str = "") -> Done:
        """Entries that were withdrawn and hold after all."""
        for name in entries:
            if not self.finding(name).withdrawn:
                raise UsageFault(
                    worded("{name} was never withdrawn, or holds again already", name=name)
                )
        return self._commit("restore", [Restore(name) for name in entries], why)

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
            raise UsageFault(
                worded("{entry} cannot be merged with itself", entry=entry),
                worded("Name two entries"),
            )
        before, gone = self._standing(entry), self._standing(other)
        changes = [change_to(before, merged(before, gone)), Withdraw(other)]
        return self._commit("merge", changes, why, merging=True)

    def undo(self, *, why: str = "") -> Done:
        """Take the last deed back, whoever did it and when."""
        changes, done = self._log.undoing(), self._log.stacks.done[-1]
        changes = changes or self._said_once_more(done)
        return self._commit("undo", changes, why, deciding=True, of=done.seq)

    def _said_once_more(self, revision: Revision) -> tuple[Change, ...]:
        """Entries that a deed decided on and left as they were: taking it back leaves them too."""
        names = dict.fromkeys(map(entry_id, revision.changes))
        return tuple(
            Withdraw(n) if self.finding(n).withdrawn else Replace(self._kept(n)) for n in names
        )

    def redo(self, *, why: str = "") -> Done:
        """Do the deed again that was undone last."""
        changes, undone = self._log.redoing(), self._log.stacks.undone[-1]
        merging = undone.did == "merge"
        if merging:  # the one that stays is named too, though it may say what it said
            stays = {entry_id(c) for c in undone.changes} - {entry_id(c) for c in changes}
            changes = (*changes, *(Replace(self._kept(name)) for name in stays))
        changes = changes or self._said_once_more(undone)
        return self._commit("redo", changes, why, merging=merging, deciding=True, of=undone.seq)

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
        for slot in slots.keys() - after.slots.keys() - set(drop):
            raise UsageFault(
                worded(
                    "{name} would be {kind}, which has no {slot}",
                    name=name,
                    kind=after.kind,
                    slot=slot,
                ),
                worded("Set its kind or its condition as well, or leave this out"),
            )
        return _change(before, after)

    def _new_id(self) -> str:
        return f"e{self._writable.next_seq}.1"


def _change(before: Entry, after: Entry) -> list[Change]:
    """What makes the one the other; nothing where they are the same."""
    return [change_to(before, after)] if after != before else []
