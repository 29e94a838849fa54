"""A log in memory, as a reviewer looks at it: entries, utterances, and all that happened to them."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace
from typing import Any

from voicelog.config.grammar import Grammar
from voicelog.domain.entry import (
    Add,
    Amend,
    Change,
    Entry,
    Finding,
    Inspection,
    Replace,
    entry_id,
)
from voicelog.domain.fact import Fact, changes_of
from voicelog.domain.heard import Heard, heard_from_json
from voicelog.domain.local_time import day_in, zone_of
from voicelog.domain.opinion import SECOND_OPINION, Opinion, opinion_from_json
from voicelog.domain.recovery import lost_sound
from voicelog.domain.revision import Revision
from voicelog.domain.slot import Slots, SlotValue
from voicelog.domain.uncollected import uncollected
from voicelog.domain.utterance import KeptClip, Utterance
from voicelog.domain.zone import Rails
from voicelog.errors import LogFault, UsageFault
from voicelog.findings.ledger import Ledger
from voicelog.review.revisions import REVISED, SAID, Stacks, States, alike, back, revision_of
from voicelog.tongue import to_word, worded

_LATE = ("probe", "measure")
"""Why an utterance amended an entry without correcting it."""


_ONLY_HERE = to_word(
    "Only what was changed at the bench, after the inspection, can be taken back and done again"
)


class Reviewed:
    """The facts of a log taken in one by one; does no input or output.

    Args:
        grammar: the log's own.
        rails: how the vehicle's rails are made.
        facts: what the log holds, in order.

    Raises:
        LogFault: a fact does not fit what came before it.
    """

    def __init__(self, grammar: Grammar, rails: Rails, facts: Iterable[Fact]) -> None:
        self._ledger = Ledger(grammar.zone_map, grammar.rules, rails)
        self._facts: list[Fact] = []
        self._uttered: dict[str, Fact] = {}
        self._erased: dict[str, str] = {}
        self._opinions: dict[str, Opinion] = {}
        self._touched_later: dict[str, tuple[Fact, ...]] = {}
        self._marks: dict[int, tuple[States, States]] = {}
        self._inspection: Inspection | None = None
        self.listened: set[str] = set()
        self.stacks = Stacks()
        with uncollected():
            for fact in facts:
                self.take(fact)

    @property
    def facts(self) -> tuple[Fact, ...]:
        """All of them, in order."""
        return tuple(self._facts)

    @property
    def silent(self) -> frozenset[str]:
        """Ids of the utterances of which there is no sound."""
        without = {name for name, fact in self._uttered.items() if "clip" not in fact.body}
        return frozenset(without | self._erased.keys())

    def take(self, fact: Fact) -> None:
        """Take in the next fact.

        Raises:
            LogFault: it does not fit what came before it.
        """
        body = fact.body
        self._facts.append(fact)
        self._ledger.miss((fact,))
        about = str(body.get("utterance", ""))
        if fact.type == "clip-erased":
            self._erased[about] = fact.at
        elif fact.type == "listened":
            self.listened.add(about)
        elif fact.type == SECOND_OPINION:
            self._opinions[about] = _opinion(fact)
        elif "heard" in body:
            self._uttered[about] = fact
        revision = revision_of(fact) if fact.type == REVISED else None
        if revision is None:
            self._change(fact)
        else:
            self._revise(fact, revision)

    def _revise(self, fact: Fact, revision: Revision) -> None:
        names = [*map(entry_id, revision.changes)]
        before = self.states(names)
        self._change(fact)
        self._marks[fact.seq] = (before, self.states(names))
        self.stacks = self.stacks.after(revision)

    def _change(self, fact: Fact) -> None:
        changes = changes_of(fact)
        if changes:
            self._ledger.take(changes)
            self._inspection = None
        for name in dict.fromkeys(entry_id(change) for change in changes):
            if fact is not self._maker(name):
                self._touched_later[name] = (*self._touched_later.get(name, ()), fact)

    def _maker(self, name: str) -> Fact | None:
        """The line of the utterance that an entry came of; None where no line holds it."""
        entry = self._ledger.entry(name)
        return None if entry is None else self._uttered.get(entry.utterance)

    def states(self, names: Iterable[str]) -> States:
        """How these entries stand."""
        return {name: self._ledger.state(name) for name in names}

    def preview(self, changes: Iterable[Change]) -> tuple[Finding, ...]:
        """The entries that the changes would touch, as they would stand."""
        return self._ledger.preview(changes)

    def inspection(self) -> Inspection:
        """All of it as it stands now; kept until something changes."""
        if self._inspection is None:
            self._inspection = self._ledger.inspection()
        return self._inspection

    def finding(self, name: str) -> Finding:
        """An entry as it stands now.

        Raises:
            UsageFault: there is none of that id.
        """
        if name not in self._ledger:
            raise UsageFault(
                worded("The log has no entry {name}", name=repr(name)),
                worded("voicelog review --plain lists them"),
            )
        return self._ledger[name]

    def revisions(self, name: str) -> tuple[Revision, ...]:
        """Every line that touched an entry, oldest first."""
        maker, later = self._maker(name), self._touched_later.get(name, ())
        made = maker is not None and name in map(entry_id, changes_of(maker))
        lines = (maker, *later) if made else later
        told = (revision_of(line) for line in lines if line is not None)
        return tuple(revision for revision in told if revision is not None)

    def once_said(self, name: str) -> tuple[Entry, ...]:
        """The earlier states of an entry that came of what was said, not of the bench."""
        makers = (
            revision.did
            for revision in self.revisions(name)
            for change in revision.changes
            if entry_id(change) == name and isinstance(change, Add | Amend | Replace)
        )
        states = zip(makers, self.finding(name).history, strict=False)  # the last made what it is
        return tuple(state for did, state in states if did == SAID)

    def said_late(self, name: str) -> Slots:
        """What later utterances added to an entry: probes and measures, no corrections."""
        late: dict[str, SlotValue] = {}
        for revision in self.revisions(name)[1:]:  # the first one made it
            for change in revision.changes if revision.did == SAID else ():
                if isinstance(change, Amend) and change.entry == name and change.why in _LATE:
                    late |= change.set
        return late

    def fact_of(self, utterance: str) -> Fact | None:
        """The line of an utterance; None where there is none."""
        return self._uttered.get(utterance)

    def utterance(self, name: str) -> Utterance:
        """The utterance that made an entry.

        Raises:
            UsageFault: there is no such entry.
            LogFault: what was heard cannot be read.
        """
        about = self.finding(name).entry.utterance
        fact = self._uttered.get(about)
        if fact is None:
            return Utterance(about, self.finding(name).entry.at, 0.0, Heard((), "typed"))
        said = utterance_of(fact, about, erased=about in self._erased)
        lost = lost_sound(fact, self._erased_on(about))
        return replace(said, second=self._opinions.get(about, said.second), lost=lost)

    def _erased_on(self, utterance: str) -> str:
        """The day, as the place had it; empty where its sound was not erased."""
        at = self._erased.get(utterance, "")
        return day_in(at, zone_of(self._facts[0].body)) if at else ""

    def undoing(self) -> tuple[Change, ...]:
        """What takes the last deed back.

        Raises:
            UsageFault: there is none, or what it touched was changed by other means since.
        """
        return self._turning(self.stacks.done, to=0)

    def redoing(self) -> tuple[Change, ...]:
        """What does the deed again that was undone last.

        Raises:
            UsageFault: as for :meth:`undoing`.
        """
        return self._turning(self.stacks.undone, to=1)

    def _turning(self, pile: tuple[Revision, ...], *, to: int) -> tuple[Change, ...]:
        if not pile:
            raise UsageFault(
                worded("There is nothing to redo") if to else worded("There is nothing to undo"),
                worded(_ONLY_HERE),
            )
        marks = self._marks[pile[-1].seq]
        now, wanted = self.states(marks[0]), marks[to]
        if not alike(now, marks[1 - to]):
            raise UsageFault(
                worded("What was done then has been changed by what was said since"),
                worded("Put the entry right by hand"),
            )
        return back(now, wanted)


def utterance_of(fact: Fact, name: str, *, erased: bool) -> Utterance:
    """An utterance as its line kept it.

    Args:
        fact: the line.
        name: the utterance's id.
        erased: its clip was erased since.

    Raises:
        LogFault: what was heard cannot be read.
    """
    try:
        heard = heard_from_json(fact.body["heard"])
        clip = None if erased else _clip(fact.body.get("clip"))
    except (KeyError, TypeError, ValueError) as error:
        raise LogFault(
            worded("Line {seq} of the log does not say what was heard", seq=fact.seq),
            worded("Run voicelog verify on the log's folder."),
        ) from error
    second = _opinion(fact) if "second" in fact.body else None
    reading = fact.body.get("reading")
    text = str(reading.get("text", "")) if isinstance(reading, Mapping) else heard.text
    return Utterance(name, fact.at, fact.offset_s, heard, text, clip, second)


def _opinion(fact: Fact) -> Opinion:
    """What a second ear made of an utterance.

    Raises:
        LogFault: it cannot be read.
    """
    try:
        return opinion_from_json(fact.body["second"])
    except (KeyError, TypeError, ValueError) as error:
        raise LogFault(
            worded("Line {seq} of the log does not say what a second ear heard", seq=fact.seq),
            worded("Run voicelog verify on the log's folder."),
        ) from error


def _clip(document: Any) -> KeptClip | None:
    if not isinstance(document, Mapping) or "file" not in document:
        return None
    return KeptClip(
        str(document["file"]), float(document.get("duration_s", 0.0)),
        float(document.get("start_s", 0.0)), str(document.get("sha256", "")),
    )  # fmt: skip
