"""Corrections at the bench as facts, what can be undone of them, and the way back."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from voicelog.domain.entry import Change, Replace, Restore, State, Withdraw
from voicelog.domain.fact import Fact, changes_of
from voicelog.domain.opinion import SECOND_OPINION
from voicelog.domain.revision import Revision

REVISED = "revised"
"""The type of a line that holds one correction."""

SAID = "said"
"""What an utterance did, beside the deeds of the bench."""

LISTENED_TOO = "second-opinion"
"""What a second ear did while the inspection went on."""

DURING = (SAID, LISTENED_TOO)
"""What was done while the inspection went on, not at the bench."""

States = Mapping[str, State | None]
"""Ids to how the entries stand; None where there is none yet."""


def revision_of(fact: Fact) -> Revision | None:
    """What a line did to entries; None where it is about none.

    Raises:
        LogFault: it holds a change that cannot be read.
    """
    changes = changes_of(fact)
    if fact.type == SECOND_OPINION:
        listened = Revision(fact.seq, fact.at, LISTENED_TOO, changes, by="the second ear")
        return listened if changes else None
    if fact.type != REVISED:
        return Revision(fact.seq, fact.at, SAID, changes) if changes else None
    body = fact.body
    of = body.get("of")
    return Revision(
        fact.seq, fact.at, str(body.get("did", "")), changes, str(body.get("by", "")),
        str(body.get("why", "")), of if isinstance(of, int) else None,
    )  # fmt: skip


@dataclass(frozen=True, slots=True)
class Stacks:
    """What can be undone and what can be done again, the next of each last."""

    done: tuple[Revision, ...] = ()
    undone: tuple[Revision, ...] = ()

    def after(self, revision: Revision) -> Stacks:
        """The stacks once this was written; a new deed ends what could be done again."""
        match revision.did:
            case "undo":
                return Stacks(self.done[:-1], (*self.undone, *self.done[-1:]))
            case "redo":
                return Stacks((*self.done, *self.undone[-1:]), self.undone[:-1])
            case did if did in DURING:
                return self
            case _:
                return Stacks((*self.done, revision))


def back(now: States, wanted: States) -> tuple[Change, ...]:
    """What brings entries from how they stand to how they stood; those that were not, are withdrawn."""
    return tuple(change for name in now for change in _back(now[name], wanted.get(name)))


def alike(one: States, other: States) -> bool:
    """True when the same entries hold and say the same; what is withdrawn is as good as not there."""
    return all(_held(one[name]) == _held(other.get(name)) for name in one)


def _held(state: State | None) -> State | None:
    return None if state is None or state.withdrawn else state


def _back(now: State | None, wanted: State | None) -> Iterator[Change]:
    if now is None:
        return
    gone = wanted is None or wanted.withdrawn
    if wanted is not None and wanted.entry != now.entry:
        yield Replace(wanted.entry)
    if gone and not now.withdrawn:
        yield Withdraw(now.entry.id)
    elif not gone and now.withdrawn:
        yield Restore(now.entry.id)
