"""Words read again for an entry that is there: typed anew, said anew, or heard another way."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from typing import Any

from voicelog.config.grammar import Grammar
from voicelog.config.settings import Settings
from voicelog.dialogue.dialogue import Dialogue
from voicelog.dialogue.scene import only_place
from voicelog.domain.entry import Add, Amend, Change, Entry, Kind, Replace, amended
from voicelog.domain.fact import change_from_json
from voicelog.domain.heard import Heard
from voicelog.domain.reading import Act, Reading
from voicelog.domain.slot import Slots
from voicelog.errors import UsageFault
from voicelog.interpret.reader import Reader

_MOST = 4
"""Other readings of one entry that are offered."""

_ABOUT_THE_LAST = (Act.CORRECTION, Act.DISREGARD, Act.AFFIRM)


@dataclass(frozen=True, slots=True)
class Now:
    """The line that is about to be written.

    Args:
        utterance: the id that words said now get.
        at: wall-clock time, RFC 3339.
    """

    utterance: str
    at: str


class Rereader:
    """Reads words as the log's own grammar and settings have it; does no input or output.

    Args:
        settings: with the log's own way to take the speaker's words.
        grammar: the log's own.
    """

    def __init__(self, settings: Settings, grammar: Grammar) -> None:
        self._settings, self._grammar = settings, grammar
        self._reader = Reader(grammar.vocabulary, grammar.zone_map, speech=settings.speech)

    def for_entry(self, entry: Entry, heard: Heard, now: Now) -> tuple[Reading, list[Change]]:
        """What the words make of an entry: it becomes the first thing they say, the rest is added.

        Words that only add to it or correct it ("right side", "it gives") change it as if said then.

        Raises:
            UsageFault: they say nothing of any metal.
        """
        reading = self._reader.read(heard)
        acts = {statement.act for statement in reading.statements}
        if not acts & set(_ABOUT_THE_LAST):
            said = self._played(reading, now, place=only_place(entry.slots))
            made = [change.entry for change in said if isinstance(change, Add)]
            told = [e for e in made if e.kind is not Kind.REMARK or e.unplaced]
            if told or entry.kind is Kind.REMARK:
                return reading, _in_place_of(entry, told or made)
        changes = [c for c in self._played(reading, now, after=entry) if not _idle(c)]
        if not changes:
            raise UsageFault(
                f"Nothing about the metal was understood in “{heard.text}”",
                "Say the place and what is there; to take the entry out, withdraw it",
            )
        return reading, changes

    def new(self, heard: Heard, now: Now, place: Slots) -> tuple[Reading, list[Change]]:
        """The entries that words make by themselves.

        Args:
            heard: the words.
            now: the line to be written.
            place: where the inspector is taken to be; empty where that is not known.

        Raises:
            UsageFault: they make none.
        """
        reading = self._reader.read(heard)
        changes = [c for c in self._played(reading, now, place=place) if isinstance(c, Add)]
        if not changes:
            raise UsageFault(
                f"Nothing was understood in “{heard.text}”", "Say the place and what is there"
            )
        return reading, list(changes)

    def parted(self, entry: Entry, at_word: int, now: Now) -> list[Change]:
        """The entry read from the first words of its text, and a new one from the rest.

        Args:
            entry: as it stands.
            at_word: so many words stay with the first.
            now: the line to be written.

        Raises:
            UsageFault: it has no such word, or a half says nothing of any metal.
        """
        words = entry.text.split()
        if not 1 <= at_word < len(words):
            raise UsageFault(
                f"{entry.id} cannot be split after {at_word} words",
                f"Its text has {len(words)}: {entry.text}",
            )
        halves = (" ".join(words[:at_word]), " ".join(words[at_word:]))
        (first, *more), (second, *_) = (
            self.for_entry(entry, Heard.typed(half), now)[1] for half in halves
        )
        if not isinstance(second, Replace):
            raise UsageFault("The second half names nothing of its own", "Split at another word")
        added = sum(isinstance(change, Add) for change in more)
        new_id = f"e{now.utterance[1:]}.{2 + added}"
        return [first, *more, Add(replace(second.entry, id=new_id))]

    def others(
        self, entry: Entry, once: Iterable[Entry], heard: Heard, body: Mapping[str, Any]
    ) -> list[Entry]:
        """The entry as other readings of the same sound have it, the likeliest first.

        Args:
            entry: as it stands.
            once: as it stood by what was said; that is no other reading.
            heard: what the ear made of its utterance.
            body: of the utterance's line.
        """
        found: list[Entry] = []
        known = [entry, *once]
        for other in (*_kept(entry, body), *self._unheeded(entry, heard)):
            if not any(_same(other, one) for one in (*known, *found)):
                found.append(other)
        return found[:_MOST]

    def _unheeded(self, entry: Entry, heard: Heard) -> Iterator[Entry]:
        """The same entry of the utterance by each hypothesis alone."""
        now, number = Now(entry.utterance, entry.at), _number(entry)
        for hypothesis in heard.hypotheses[:_MOST]:
            reading = self._reader.read(replace(heard, hypotheses=(hypothesis,)))
            changes = self._played(reading, now, place=only_place(entry.slots))
            made = [change.entry for change in changes if isinstance(change, Add)]
            if 0 < number <= len(made) and made[number - 1].kind is not Kind.REMARK:
                yield _taken(entry, made[number - 1])

    def _played(
        self, reading: Reading, now: Now, *, place: Slots | None = None, after: Entry | None = None
    ) -> tuple[Change, ...]:
        dialogue = Dialogue(
            self._grammar.zone_map, rails=self._settings.rails, speech=self._settings.speech,
            place=place,
        )  # fmt: skip
        if after is not None:
            dialogue.resume([(Add(after), 0.0)])
        return dialogue.take(reading, utterance=now.utterance, at=now.at, at_s=0.0).changes


def _in_place_of(entry: Entry, made: list[Entry]) -> list[Change]:
    first, *rest = made
    return [Replace(_taken(entry, first)), *map(Add, rest)]


def _taken(entry: Entry, other: Entry) -> Entry:
    """Another entry under the id, utterance and time of this one."""
    return replace(other, id=entry.id, utterance=entry.utterance, at=entry.at, runner_up={})


def _idle(change: Change) -> bool:
    return isinstance(change, Add) and change.entry.kind is Kind.REMARK


def _number(entry: Entry) -> int:
    """Which entry of its utterance it is, from 1; 0 for one that was split off at the bench."""
    line, _, number = entry.id.removeprefix("e").partition(".")
    return int(number) if entry.utterance == f"u{line}" else 0


def _kept(entry: Entry, body: Mapping[str, Any]) -> Iterator[Entry]:
    """What the next best reading made of it, as the log kept it."""
    reading = body.get("reading", {})
    changes = [change_from_json(document) for document in reading.get("runner_up", ())]
    made = [change.entry for change in changes if isinstance(change, Add)]
    meant = [other for other in made if other.slots == entry.runner_up] if entry.runner_up else []
    if not meant and 0 < _number(entry) <= len(made):
        meant = [made[_number(entry) - 1]]
    yield from (_taken(entry, other) for other in meant if other.kind is not Kind.REMARK)
    yield from (amended(entry, c) for c in changes if isinstance(c, Amend) and c.entry == entry.id)


def _same(one: Entry, other: Entry) -> bool:
    """True where both say the same; the loss that a thickness means is not said."""
    return one.kind is other.kind and _said(one.slots) == _said(other.slots)


def _said(slots: Slots) -> Slots:
    worked_out = {"loss_percent"} if "thickness_mm" in slots else set()
    return {name: value for name, value in slots.items() if name not in worked_out}
