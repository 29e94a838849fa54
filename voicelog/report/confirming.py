"""Which entries a person has confirmed: everything else stands as the program understood it."""

from __future__ import annotations

from collections.abc import Iterable

from voicelog.domain.entry import Amend, Change, Replace, entry_id
from voicelog.domain.fact import Fact
from voicelog.review.revisions import LISTENED_TOO, SAID, revision_of

AFFIRMED = "affirm"
"""Why an entry was amended by its inspector's own answer."""


def confirmed(facts: Iterable[Fact]) -> frozenset[str]:
    """Entries that somebody affirmed, or confirmed or corrected at the bench and has not undone.

    Raises:
        LogFault: a line holds a change that cannot be read.
    """
    sure: set[str] = set()
    for fact in facts:
        revision = revision_of(fact)
        if revision is None or revision.did == LISTENED_TOO:
            continue
        if revision.did == SAID:
            sure.update(entry_id(change) for change in revision.changes if _is_affirmed(change))
        elif revision.did == "undo":
            sure.difference_update(map(entry_id, revision.changes))
        else:
            sure.update(map(entry_id, revision.changes))
    return frozenset(sure)


def _is_affirmed(change: Change) -> bool:
    """What *affirm* settled, or took over from a second ear."""
    return isinstance(change, Replace) or (isinstance(change, Amend) and change.why == AFFIRMED)
