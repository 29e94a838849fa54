"""What a second ear changes about an utterance: its verdict, doubts, and what may be proposed. Pure.

An utterance is played once more from where the dialogue stood before it: as both ears heard it, and
as the second one did alone. What then comes out differently is told by its weight: place, side,
fault, probe, size. An entry is put in doubt where that differs, or where the ears are torn between
two readings, and a doubt goes where the second ear by itself tells the same without it; nothing
else is ever changed without somebody who affirms it.
"""

from __future__ import annotations

from collections.abc import Container, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace

from voicelog.dialogue.ask import Ask, What
from voicelog.dialogue.dialogue import Dialogue, Turn
from voicelog.dialogue.rivals import pairs
from voicelog.domain.entry import Add, Amend, Change, Entry, Kind, Replace, entry_id
from voicelog.domain.heard import Heard
from voicelog.domain.inert import inert
from voicelog.domain.opinion import Verdict
from voicelog.domain.reading import Reading
from voicelog.domain.slot import Slots
from voicelog.interpret.reader import Reader
from voicelog.runtime.second_opinion import joint_reading

COUNTS = (
    "zone", "ordinal", "side", "condition", "probe", "size_mm", "depth_mm", "thickness_mm",
    "nominal_mm", "loss_percent", "spoken_grade",
)  # fmt: skip
"""Slots in which two readings of an entry may not differ."""

WHY = "second-ear"
"""Why an entry lost a doubt."""

_LONGEST = 100
"""Characters of what the second ear heard that a doubt repeats."""

Pair = tuple[Entry | None, Entry | None]
"""An entry as the first ear has it, and as it is otherwise; None where one of them has none."""


@dataclass(frozen=True, slots=True)
class Before:
    """An utterance, and how the dialogue stood before it.

    Args:
        dialogue: nobody else goes on with it.
        utterance: its id.
        at: wall-clock time, RFC 3339.
        at_s: when it ended, in seconds of the inspection.
        began_s: when it began.
        unsafe: ids of the entries that were graded unsafe.
    """

    dialogue: Dialogue
    utterance: str
    at: str
    at_s: float
    began_s: float
    unsafe: Container[str] = ()

    def play(self, reading: Reading) -> Played:
        """What a reading of it would do."""
        twin = self.dialogue.copy()
        turn = twin.take(
            reading, utterance=self.utterance, at=self.at, at_s=self.at_s, began_s=self.began_s,
            unsafe=self.unsafe,
        )  # fmt: skip
        return Played(reading, turn, twin.touched)


@dataclass(frozen=True, slots=True)
class Played:
    """One way to read an utterance, what it does, and the entries it touches as they then stand."""

    reading: Reading
    turn: Turn
    entries: tuple[Entry, ...]


@dataclass(frozen=True, slots=True)
class Judged:
    """What a second ear says.

    Args:
        verdict: in one word.
        changes: what becomes of doubts.
        ask: what may be proposed to somebody who can affirm it.
        entries: ids of the entries it is about.
    """

    verdict: Verdict
    changes: tuple[Change, ...] = ()
    ask: Ask | None = None
    entries: tuple[str, ...] = ()


def judge(reader: Reader, before: Before, first: Played, heard: Heard, second: Heard) -> Judged:
    """Weigh what a second ear heard against what was made of the first one's words.

    Args:
        reader: with the vocabulary in force.
        before: the utterance.
        first: what was made of it.
        heard: what the first ear heard.
        second: what the second one heard.
    """
    names = tuple(entry.id for entry in first.entries)
    if not second.hypotheses:
        return Judged(Verdict.NOTHING, entries=names)
    alone = before.play(reader.read(second))
    joint = before.play(joint_reading(reader, first.reading, heard, second))
    apart = differing(first.entries, joint.entries, before.utterance)
    if apart:
        changes = tuple(_doubted(apart, second.text))
        return Judged(Verdict.DIFFERS, changes, _proposal(apart, first, before), names)
    apart = differing(first.entries, alone.entries, before.utterance)
    if not apart:
        surer = tuple(_surer(_alike(first, alone, before)))
        return Judged(Verdict.AGREES, surer, entries=names)
    torn = any(_more_doubtful(mine, other) for mine, other in _alike(first, joint, before))
    changes = tuple(_doubted(apart, second.text)) if torn else ()
    return Judged(Verdict.OUTWEIGHED, changes, entries=names)


def verdict_of(first: Played, joint: Played, alone: Played, utterance: str) -> Verdict:
    """Whether both ears together tell something else, and the second one by itself."""
    if differing(first.entries, joint.entries, utterance):
        return Verdict.DIFFERS
    outweighed = bool(differing(first.entries, alone.entries, utterance))
    return Verdict.OUTWEIGHED if outweighed else Verdict.AGREES


def differing(mine: Sequence[Entry], others: Sequence[Entry], utterance: str) -> list[Pair]:
    """The entries that two readings of one utterance have differently, in a slot that counts.

    Args:
        mine: what the first reading made or changed, as it then stands.
        others: what the other one did.
        utterance: which one was read.
    """
    return [(m, o) for m, o in _paired(mine, others, utterance) if _weight(m) != _weight(o)]


def _paired(mine: Sequence[Entry], others: Sequence[Entry], utterance: str) -> Iterator[Pair]:
    """Earlier entries by their id, new ones as they are most alike."""
    new, other_new = ([e for e in those if e.utterance == utterance] for those in (mine, others))
    old, other_old = (
        {e.id: e for e in those if e.utterance != utterance} for those in (mine, others)
    )
    yield from ((old.get(name), other_old.get(name)) for name in dict.fromkeys((*old, *other_old)))
    matched = pairs(new, other_new)
    yield from matched
    taken = {id(entry) for pair in matched for entry in pair}
    yield from ((entry, None) for entry in new if id(entry) not in taken)
    yield from ((None, entry) for entry in other_new if id(entry) not in taken)


def _alike(mine: Played, others: Played, before: Before) -> Iterator[tuple[Entry, Entry]]:
    """The entries that both readings have."""
    for entry, other in _paired(mine.entries, others.entries, before.utterance):
        if entry is not None and other is not None:
            yield entry, other


def _weight(entry: Entry | None) -> tuple[str, Slots]:
    """What of an entry counts; words that say nothing of the metal are as good as none."""
    if entry is None or _is_talk(entry):
        return "", {}
    return str(entry.kind), {name: entry.slots[name] for name in COUNTS if name in entry.slots}


def _is_talk(entry: Entry) -> bool:
    return entry.kind is Kind.REMARK and not entry.unplaced


def _more_doubtful(entry: Entry, other: Entry) -> bool:
    return not set(other.doubts) <= set(entry.doubts)


def _doubted(apart: Sequence[Pair], text: str) -> Iterator[Change]:
    """The entries in doubt, each with what it may be instead."""
    doubt = f'the second ear heard "{inert(text, _LONGEST)}"'
    for mine, other in apart:
        if mine is not None:
            instead = {} if other is None or _is_talk(other) else other.slots
            yield Replace(replace(mine, doubts=(*mine.doubts, doubt), runner_up=instead))


def _surer(alike: Iterable[tuple[Entry, Entry]]) -> Iterator[Change]:
    """Doubts that the second ear does not have, where it has none of its own."""
    for entry, other in alike:
        left = tuple(doubt for doubt in entry.doubts if doubt in other.doubts)
        if len(left) < len(entry.doubts) and set(other.doubts) <= set(entry.doubts):
            yield Amend(entry.id, {}, why=WHY, doubts=left)


def _proposal(apart: Sequence[Pair], first: Played, before: Before) -> Ask | None:
    """What *affirm* would make of the entries; None where nothing can be offered."""
    number = sum(isinstance(change, Add) for change in first.turn.changes)
    changes: list[Change] = []
    for mine, other in apart:
        if other is None or _is_talk(other):
            continue
        if mine is not None:
            changes.append(Replace(_as(mine, other)))
        elif other.utterance != before.utterance:  # only both together heard it corrected
            changes.append(Replace(_as(other, other)))
        else:
            number += 1
            changes.append(Add(replace(_as(other, other), id=f"e{before.utterance[1:]}.{number}")))
    return proposal_of(changes) if changes else None


def proposal_of(changes: Sequence[Change]) -> Ask:
    """The question whether what both ears together heard is right.

    Args:
        changes: what *affirm* does; at least one.
    """
    offered = changes[0].entry if isinstance(changes[0], Replace | Add) else None
    whole = offered is not None and offered.kind is Kind.FINDING
    slots = offered.slots if offered is not None and whole else {}
    instead = slots if {"zone", "condition"} <= slots.keys() else {}
    return Ask(What.SECOND, entry_id(changes[0]), instead=instead, changes=tuple(changes))


def _as(entry: Entry, other: Entry) -> Entry:
    """The entry as the other reading has it; affirmed, only its open questions leave it in doubt."""
    return replace(
        other, id=entry.id, utterance=entry.utterance, at=entry.at, runner_up={},
        doubts=other.doubts if other.questions or other.unplaced else (),
    )  # fmt: skip
