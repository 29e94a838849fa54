"""What happened to an entry, told one after the other: who did what, when, and why."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from voicelog.domain.entry import Amend, Entry, Finding, Replace, Restore, Withdraw, entry_id
from voicelog.domain.inert import inert
from voicelog.domain.revision import Revision
from voicelog.domain.slot import SLOTS
from voicelog.domain.zone import ZoneMap
from voicelog.review.revisions import LISTENED_TOO, SAID

LONGEST = 160
"""Characters of one text that a line carries."""

NOT_KNOWN = "not known"

_DID: Mapping[str, str] = {
    SAID: "said more",
    LISTENED_TOO: "listened too",
    "correct": "corrected it",
    "runner-up": "took another reading",
    "confirm": "confirmed it",
    "withdraw": "withdrew it",
    "restore": "restored it",
    "split": "split it",
    "merge": "merged it",
    "add": "added it",
    "reread": "had it read anew",
    "move": "moved it",
}


@dataclass(frozen=True, slots=True)
class Step:
    """One thing that happened to an entry.

    Args:
        at: when, RFC 3339, UTC.
        by: who; empty for what was said during the inspection.
        did: what was done, as the rest of a sentence that begins with who.
        changes: what became of the entry, one change each, such as ``side: left → right``.
        why: the reason that was given; may be empty.
    """

    at: str
    by: str
    did: str
    changes: tuple[str, ...]
    why: str = ""

    def in_words(self) -> str:
        """All of it on one line, without the time."""
        told = f"{self.by or 'the inspector'} {self.did}"
        changed = f": {'; '.join(self.changes)}" if self.changes else ""
        return f"{told}{changed}" + (f". Why: {self.why}" if self.why else "")


def steps(finding: Finding, revisions: Sequence[Revision], zone_map: ZoneMap) -> tuple[Step, ...]:
    """Every line that touched an entry after it was first written, oldest first.

    Args:
        finding: the entry, with its earlier states.
        revisions: the lines that touched it, oldest first.
        zone_map: titles of the places.
    """
    states, at = [*finding.history, finding.entry], 0
    told, deeds = list[Step](), {r.seq: r.did for r in revisions}
    for number, revision in enumerate(revisions):
        own = [c for c in revision.changes if entry_id(c) == finding.entry.id]
        after = min(at + sum(isinstance(c, Amend | Replace) for c in own), len(states) - 1)
        standing = () if revision.did in ("withdraw", "restore") else _standing(own)
        changed = [*_differences(states[at], states[after], zone_map), *standing]
        if number:
            told.append(_step(revision, changed, deeds))
        at = after
    return tuple(told)


def _step(revision: Revision, changed: Sequence[str], deeds: Mapping[int, str]) -> Step:
    return Step(
        revision.at, inert(revision.by, LONGEST), _did(revision, deeds), tuple(changed),
        inert(revision.why, LONGEST),
    )  # fmt: skip


def _did(revision: Revision, deeds: Mapping[int, str]) -> str:
    if revision.did not in ("undo", "redo"):
        return _DID.get(revision.did, inert(revision.did, LONGEST))
    about = _DID.get(deeds.get(revision.of or 0, ""), "a change")
    return f"{'took back' if revision.did == 'undo' else 'did again'} “{about}”"


def _standing(changes: Sequence[object]) -> Iterator[str]:
    for change in changes:
        if isinstance(change, Withdraw):
            yield "withdrawn"
        elif isinstance(change, Restore):
            yield "holds again"


def _differences(before: Entry, after: Entry, zone_map: ZoneMap) -> Iterator[str]:
    """What is not as it was."""
    if before.kind is not after.kind:
        yield f"now {after.kind}".replace("-", " ")
    for slot in SLOTS:
        one, other = before.slots.get(slot), after.slots.get(slot)
        if one != other:
            yield f"{_name(slot)}: {_value(before, slot, zone_map)} → {_value(after, slot, zone_map)}"
    if before.text != after.text:
        yield f"words: “{inert(before.text, LONGEST)}” → “{inert(after.text, LONGEST)}”"
    if before.reason != after.reason:
        yield f"reason: {inert(after.reason, LONGEST) or 'none'}"
    if before.doubtful and not after.doubtful:
        yield "not doubtful any more"
    if after.doubtful and not before.doubtful:
        yield f"doubtful: {inert('; '.join(after.doubts), LONGEST)}"


def _name(slot: str) -> str:
    from voicelog.interpret.slot_words import short_name  # starts slowly, and few entries need it

    return short_name(slot).replace("_", " ")


def _value(entry: Entry, slot: str, zone_map: ZoneMap) -> str:
    if slot not in entry.slots:
        return NOT_KNOWN
    from voicelog.interpret.slot_text import value_in_words

    return inert(value_in_words(slot, entry.slots[slot], zone_map), LONGEST)
