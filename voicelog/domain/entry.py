"""An entry: one thing the inspector said about the vehicle, and what happened to it since."""

from __future__ import annotations

from collections.abc import Callable, Collection, Mapping
from dataclasses import dataclass, field, replace
from enum import StrEnum
from typing import Any

from voicelog.domain.grade import Gap, Grade, Verdict
from voicelog.domain.slot import Ranges, Slots


class Kind(StrEnum):
    """What an entry is."""

    FINDING = "finding"
    CLEAR = "clear"
    NOT_SEEN = "not-seen"
    PHOTO = "photo"
    REMARK = "remark"


@dataclass(frozen=True, slots=True)
class Question:
    """What the tool would ask: the slot in doubt and the values it could take."""

    slot: str
    options: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Entry:
    """One entry as it stands now.

    Args:
        id: ``e<utterance seq>.<n>``, never reused.
        utterance: ``u<seq>`` of the utterance that made it.
        at: wall-clock time of the utterance, RFC 3339.
        kind: what it is.
        slots: what is known.
        text: the words it was read from.
        doubts: why it is doubtful, in plain words; empty when it is not.
        reason: why a place could not be looked at (not-seen).
        questions: what should be asked.
        absent: conditions said not to be there (clear).
        unplaced: a condition was heard without a place.
        place_assumed: the place was carried over for long.
        tags: what a remark is about, for example ``stored-damp``.
        runner_up: the slots that the next best reading gives the same entry.
        ranges: both ends of the slots said as a range.
    """

    id: str
    utterance: str
    at: str
    kind: Kind
    slots: Slots = field(default_factory=dict)
    text: str = ""
    doubts: tuple[str, ...] = ()
    reason: str = ""
    questions: tuple[Question, ...] = ()
    absent: tuple[str, ...] = ()
    unplaced: bool = False
    place_assumed: bool = False
    tags: tuple[str, ...] = ()
    runner_up: Slots = field(default_factory=dict)
    ranges: Ranges = field(default_factory=dict)

    @property
    def doubtful(self) -> bool:
        """True when a person should listen again."""
        return bool(self.doubts)


@dataclass(frozen=True, slots=True)
class State:
    """An entry as it stands in a log, and whether it holds."""

    entry: Entry
    withdrawn: bool = False


@dataclass(frozen=True, slots=True)
class Add:
    """A new entry."""

    entry: Entry


@dataclass(frozen=True, slots=True)
class Amend:
    """Slots of an earlier entry replaced, added or dropped.

    Args:
        entry: id of the entry that changes.
        set: slots replaced or added.
        why: ``correction``, ``probe``, ``measure``, ``place`` or ``affirm``.
        drop: slots that no longer hold.
        kind: the entry's new kind, if it changes.
        doubts: its doubts from now on; None leaves them.
        absent: conditions said not to be there from now on; None leaves them.
        questions: what should be asked from now on; None leaves those that ``set`` does not answer.
        ranges: both ends of the slots in ``set`` that were said as a range.
    """

    entry: str
    set: Slots
    why: str
    drop: tuple[str, ...] = ()
    kind: Kind | None = None
    doubts: tuple[str, ...] | None = None
    absent: tuple[str, ...] | None = None
    questions: tuple[Question, ...] | None = None
    ranges: Ranges = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Withdraw:
    """An earlier entry no longer holds; it stays in the log."""

    entry: str


@dataclass(frozen=True, slots=True)
class Restore:
    """An entry that was withdrawn holds again."""

    entry: str


@dataclass(frozen=True, slots=True)
class Replace:
    """An earlier entry as it is from now on, whole: its words were read again, or undone.

    Args:
        entry: it carries the id of the entry whose place it takes.
    """

    entry: Entry


Change = Add | Amend | Withdraw | Restore | Replace


def entry_id(change: Change) -> str:
    """The id of the entry that the change is about."""
    return change.entry.id if isinstance(change, (Add, Replace)) else change.entry


def amended(entry: Entry, change: Amend) -> Entry:
    """The entry after the change; a slot said anew keeps no range, a zone is assumed no longer."""
    kind = change.kind or entry.kind
    slots = {**_without(entry.slots, change.drop), **change.set}
    open_still = tuple(q for q in entry.questions if q.slot not in change.set)
    return replace(
        entry,
        slots=slots,
        kind=kind,
        doubts=entry.doubts if change.doubts is None else change.doubts,
        reason=entry.reason if kind is entry.kind else "",
        absent=entry.absent if change.absent is None else change.absent,
        unplaced=entry.unplaced and "zone" not in slots,
        place_assumed=entry.place_assumed and "zone" not in change.set,
        questions=open_still if change.questions is None else change.questions,
        ranges={**_without(entry.ranges, (*change.set, *change.drop)), **change.ranges},
    )


def _without(named: Mapping[str, Any], names: Collection[str]) -> dict[str, Any]:
    return {name: value for name, value in named.items() if name not in names}


@dataclass(frozen=True, slots=True)
class Finding:
    """An entry with its grade and its history; only entries of kind finding have a grade.

    Args:
        entry: as it stands now.
        history: every earlier state, oldest first.
        grade: the one that counts.
        computed_grade: what the rules gave.
        spoken_grade: what the inspector called it.
        rules: ids of the rules that fired, base rule first.
        unproven: the metal itself was not reached.
        cautions: sentences to say at this finding.
        withdrawn: it no longer holds.
        words: the text that the rules read; empty where the entry's own words are about something
            else since its condition was corrected.
        loss_percent: the wall loss that its thickness means, as the rules read it, not rounded;
            None where no thickness was said, or nothing to compare it with.
    """

    entry: Entry
    history: tuple[Entry, ...] = ()
    grade: Grade | None = None
    computed_grade: Grade | None = None
    spoken_grade: Grade | None = None
    rules: tuple[str, ...] = ()
    unproven: bool = False
    cautions: tuple[str, ...] = ()
    withdrawn: bool = False
    words: str = ""
    loss_percent: float | None = None


@dataclass(frozen=True, slots=True)
class Seen:
    """What was looked at in one place.

    Args:
        looked: at least one finding or clear.
        probed: at least one of them with a probe, scrape or gauge.
        inside: its cavity was looked into; None where it has none.
        photo: a picture was claimed.
    """

    looked: bool
    probed: bool
    inside: bool | None
    photo: bool


@dataclass(frozen=True, slots=True)
class Inspection:
    """A whole log, folded.

    Args:
        findings: every entry in order, withdrawn ones included.
        coverage: (zone, side) to what was seen there; side None where the zone comes once.
        gaps: places not looked at, not probed or not looked into.
        verdict: over all of it.
        lost: numbers of the lines that could not be recovered, where the log was damaged.
    """

    findings: tuple[Finding, ...]
    coverage: Mapping[tuple[str, str | None], Seen]
    gaps: tuple[Gap, ...]
    verdict: Verdict
    lost: tuple[int, ...] = ()
    _parts: Callable[[str], Any] | None = field(default=None, repr=False, compare=False)

    @classmethod
    def late(cls, parts: Callable[[str], Any]) -> Inspection:
        """One whose parts are worked out when somebody first looks at them, on whatever thread.

        Args:
            parts: gives a part by the name that it has here; always the same.
        """
        inspection = object.__new__(cls)
        object.__setattr__(inspection, "_parts", parts)
        return inspection

    def __getattr__(self, name: str) -> Any:
        """A part that was not looked at yet: Python asks here for what an object does not have."""
        if name not in _PARTS or self._parts is None:
            raise AttributeError(name)
        part = self._parts(name)
        object.__setattr__(self, name, part)
        return part

    @property
    def live(self) -> tuple[Finding, ...]:
        """The entries that have not been withdrawn."""
        return tuple(finding for finding in self.findings if not finding.withdrawn)


_PARTS = frozenset(("findings", "coverage", "gaps", "verdict", "lost"))
