"""The entries of a log as they stand now, beside what was said and what a person settled since."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable
from typing import Any

from voicelog.config.grammar import Grammar
from voicelog.domain.entry import Change, Entry, Finding, entry_id
from voicelog.domain.fact import Fact
from voicelog.domain.zone import Rails
from voicelog.errors import UsageFault
from voicelog.findings.ledger import Ledger
from voicelog.review.revisions import REVISED, Stacks, revision_of
from voicelog.runtime.replay import counts
from voicelog.tongue import worded

_WHOLE = ("confirm", "reread")
"""Deeds by which a person vouched for an entry as a whole: it is right, or its sentence was said anew."""


class Standing:
    """The entries of a log: as they were said, as they stand now, and what a person settled.

    Args:
        grammar: the log's own.
        rails: how the vehicle's rails are made.
        facts: what the log holds.
    """

    def __init__(self, grammar: Grammar, rails: Rails, facts: Iterable[Fact]) -> None:
        self.zone_map = grammar.zone_map
        self._now = Ledger(grammar.zone_map, grammar.rules, rails)
        self._names: dict[str, None] = {}
        self._put_right: dict[int, set[tuple[str, str]]] = {}
        self._stacks = Stacks()
        for fact in facts:
            self._take(fact)

    def _take(self, fact: Fact) -> None:
        revision = revision_of(fact)
        if revision is None:
            return
        names = [entry_id(change) for change in revision.changes]
        before = {name: self._told(name) for name in names}
        self._now.take(revision.changes)
        self._names |= dict.fromkeys(names)
        self._stacks = self._stacks.after(revision)
        if fact.type == REVISED:
            every = revision.did in _WHOLE
            self._put_right[fact.seq] = {
                (name, slot)
                for name in names
                for slot in _differing(before[name], self._told(name), every=every)
            }

    def _told(self, name: str) -> dict[str, Any]:
        state = self._now.state(name)
        return told_of(None if state is None else state.entry)

    def __contains__(self, name: object) -> bool:
        return name in self._now

    def entry(self, name: str) -> Entry | None:
        """The entry as it stands, as it was kept; None where there is none or it does not hold."""
        state = self._now.state(name)
        return None if state is None or state.withdrawn else state.entry

    def finding(self, name: str) -> Finding:
        """The entry as it stands, graded.

        Raises:
            KeyError: there is none.
        """
        return self._now[name]

    def said_in(self, entries: Collection[str], *, doubtful_only: bool) -> Callable[[str], bool]:
        """Which utterances some entries were said in.

        Args:
            entries: their ids; all when empty.
            doubtful_only: the doubtful ones among them.

        Raises:
            UsageFault: there is no entry of that id.
        """
        strays = [name for name in entries if name not in self]
        if strays:
            raise UsageFault(
                worded("The log has no entry {name}", name=repr(strays[0])),
                worded("voicelog review --plain lists them"),
            )
        if not entries and not doubtful_only:
            return lambda _utterance: True
        found = [state.entry for name in entries or self._names if (state := self._now.state(name))]
        return {e.utterance for e in found if e.doubtful or not doubtful_only}.__contains__

    def last(self, wanted: Callable[[Entry], bool]) -> str | None:
        """The id of the last entry that stands, says something of the metal and is wanted."""
        standing = (entry for name in self._names if (entry := self.entry(name)) is not None)
        return next((e.id for e in reversed([*standing]) if counts(e) and wanted(e)), None)

    def preview(self, changes: Iterable[Change]) -> Finding:
        """The entry as the changes would leave it."""
        return self._now.preview(changes)[0]

    def settled(self, name: str, slots: Iterable[str]) -> bool:
        """True where a person put one of the slots right at the bench, or vouched for the entry.

        What was taken back does not count.
        """
        done = (self._put_right.get(revision.seq, set()) for revision in self._stacks.done)
        settled = set[tuple[str, str]]().union(*done)
        return any((name, slot) in settled for slot in slots)


def told_of(entry: Entry | None) -> dict[str, Any]:
    """Kind and slots; nothing for what is no entry, or a mere remark."""
    if entry is None or not counts(entry):
        return {}
    return {"kind": str(entry.kind), **entry.slots}


def _differing(before: dict[str, Any], after: dict[str, Any], *, every: bool) -> set[str]:
    """The slots that have another value, or none any more; every slot where that is asked for."""
    return {s for s in {*before, *after} if every or before.get(s) != after.get(s)}
