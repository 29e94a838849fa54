"""What happened to an entry, told one after the other: who did what, when, and why."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from voicelog.domain.entry import (
    Amend,
    Change,
    Entry,
    Finding,
    Replace,
    Restore,
    Withdraw,
    entry_id,
)
from voicelog.domain.inert import inert
from voicelog.domain.revision import Revision
from voicelog.domain.slot import SLOTS
from voicelog.domain.zone import ZoneMap
from voicelog.review.revisions import LISTENED_TOO, SAID
from voicelog.tongue import joined, to_word, worded

LONGEST = 160
"""Characters of one text that a line carries."""

NOT_KNOWN = to_word("not known")

_DID: Mapping[str, str] = {
    SAID: to_word("said more"),
    LISTENED_TOO: to_word("listened too"),
    "correct": to_word("corrected it"),
    "runner-up": to_word("took another reading"),
    "confirm": to_word("confirmed it"),
    "withdraw": to_word("withdrew it"),
    "restore": to_word("restored it"),
    "split": to_word("split it"),
    "merge": to_word("merged it"),
    "add": to_word("added it"),
    "reread": to_word("had it read anew"),
    "move": to_word("moved it"),
}
_STANDS = (_DID["withdraw"], _DID["restore"])
_PUT_RIGHT = to_word("put it right while inspecting")
_CHANGE = to_word("a change")


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
        told = joined(" ", (self.by or worded("the inspector"), self.did))
        if self.changes:
            told = joined(": ", (told, joined("; ", self.changes)))
        if self.why:
            return worded("{deed}. Why: {why}", deed=told, why=self.why)
        return told


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
        did = _spoken(own) if revision.did == SAID else _did(revision, deeds)
        standing = () if did in {worded(one) for one in _STANDS} else _standing(own)
        changed = [*_differences(states[at], states[after], zone_map), *standing]
        if number:
            told.append(_step(revision, did, changed))
        at = after
    return tuple(told)


def _step(revision: Revision, did: str, changed: Sequence[str]) -> Step:
    return Step(
        revision.at, inert(revision.by, LONGEST), did, tuple(changed), inert(revision.why, LONGEST)
    )


def _spoken(own: Sequence[Change]) -> str:
    """What a sentence of the inspection did to the entry: more of it, or something else instead."""
    if any(isinstance(change, Withdraw) for change in own):
        return worded(_DID["withdraw"])
    righted = any(isinstance(change, Amend) and change.why == "correction" for change in own)
    return worded(_PUT_RIGHT) if righted else worded(_DID[SAID])


def _did(revision: Revision, deeds: Mapping[int, str]) -> str:
    if revision.did not in ("undo", "redo"):
        known = _DID.get(revision.did)
        return worded(known) if known else inert(revision.did, LONGEST)
    told = _DID.get(deeds.get(revision.of or 0, ""), _CHANGE)
    about = worded(told)
    if revision.did == "undo":
        return worded("took back “{deed}”", deed=about)
    return worded("did again “{deed}”", deed=about)


def _standing(changes: Sequence[object]) -> Iterator[str]:
    for change in changes:
        if isinstance(change, Withdraw):
            yield worded("withdrawn")
        elif isinstance(change, Restore):
            yield worded("holds again")


def _differences(before: Entry, after: Entry, zone_map: ZoneMap) -> Iterator[str]:
    """What is not as it was."""
    if before.kind is not after.kind:
        yield worded("now {kind}", kind=str(after.kind).replace("-", " "))
    for slot in SLOTS:
        one, other = before.slots.get(slot), after.slots.get(slot)
        if one != other:
            values = (_value(entry, slot, zone_map) for entry in (before, after))
            yield joined(": ", (_name(slot), joined(" → ", values)))
    if before.text != after.text:
        was, now = (inert(entry.text, LONGEST) for entry in (before, after))
        yield worded("words: “{before}” → “{after}”", before=was, after=now)
    if before.reason != after.reason:
        reason = inert(after.reason, LONGEST) or worded("none")
        yield worded("reason: {reason}", reason=reason)
    if before.doubtful and not after.doubtful:
        yield worded("not doubtful any more")
    if after.doubtful and not before.doubtful:
        yield worded("doubtful: {doubts}", doubts=inert("; ".join(after.doubts), LONGEST))


def _name(slot: str) -> str:
    from voicelog.interpret.slot_words import short_name  # starts slowly, and few entries need it

    return short_name(slot).replace("_", " ")


def _value(entry: Entry, slot: str, zone_map: ZoneMap) -> str:
    if slot not in entry.slots:
        return worded(NOT_KNOWN)
    from voicelog.interpret.slot_text import value_in_words

    return inert(value_in_words(slot, entry.slots[slot], zone_map), LONGEST)
