"""Words read again for an entry that is there: typed anew, said anew, or heard another way."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from typing import Any

from voicelog.config.grammar import Grammar
from voicelog.config.settings import Settings
from voicelog.dialogue.dialogue import Dialogue
from voicelog.dialogue.scene import only_place
from voicelog.domain.entry import Add, Change, Entry, Kind, Replace, entry_id
from voicelog.domain.heard import Heard
from voicelog.domain.inert import inert
from voicelog.domain.reading import Act, Reading
from voicelog.domain.slot import Slots
from voicelog.errors import UsageFault
from voicelog.interpret.reader import Reader
from voicelog.runtime.entries_made import come_to, in_place_of, is_idle, made_by, taken
from voicelog.runtime.other_readings import alike, kept_runner_up, number_of
from voicelog.tongue import worded

_MOST = 4
"""Other readings of one entry that are offered."""

_LONGEST_SHOWN = 120
"""Characters of a sentence that a message repeats."""

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

        Words that begin by correcting it ("correction, right side"), or only add to it ("30 mil"),
        change it as if said then.

        Raises:
            UsageFault: they say nothing of any metal.
        """
        reading, place = self._reader.read(heard), only_place(entry.slots)
        made: list[Entry] = []
        if _opens_with(reading) not in _ABOUT_THE_LAST:
            made = made_by(self._played(reading, now, place=place))
            told = [e for e in made if e.kind is not Kind.REMARK or e.unplaced]
            if told or (made and entry.kind is Kind.REMARK):
                return reading, in_place_of(entry, told or made)
        changes = self._played(reading, now, place=place, after=entry)
        changes = [change for change in changes if not is_idle(change)]
        if not any(entry_id(change) == entry.id for change in changes):
            raise UsageFault(
                worded("Nothing about the metal was understood in “{heard}”", heard=_shown(heard)),
                worded("Say the place and what is there; to take the entry out, withdraw it"),
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
        made = made_by(self._played(reading, now, place=place))
        if not made:
            raise UsageFault(
                worded("Nothing was understood in “{heard}”", heard=_shown(heard)),
                worded("Say the place and what is there"),
            )
        return reading, list(map(Add, made))

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
                worded(
                    "{entry} cannot be split after {count} words", entry=entry.id, count=at_word
                ),
                worded("Its text has {count}: {text}", count=len(words), text=entry.text),
            )
        halves = (" ".join(words[:at_word]), " ".join(words[at_word:]))
        first, second = (self.for_entry(entry, Heard.typed(half), now)[1] for half in halves)
        if not isinstance(second[0], Replace):
            raise UsageFault(
                worded("The second half names nothing of its own"), worded("Split at another word")
            )
        apart = [change.entry for change in second if isinstance(change, Replace | Add)]
        new = (taken(entry, other) for other in (*made_by(first), *apart))
        return [
            *(change for change in first if not isinstance(change, Add)),
            *(Add(replace(e, id=f"e{now.utterance[1:]}.{n}")) for n, e in enumerate(new, 2)),
        ]

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
        for other in (*kept_runner_up(entry, body), *self._unheeded(entry, heard)):
            if not any(alike(other, one) for one in (*known, *found)):
                found.append(other)
        return found[:_MOST]

    def _unheeded(self, entry: Entry, heard: Heard) -> Iterator[Entry]:
        """The same entry of the utterance by each hypothesis alone."""
        now, number = Now(entry.utterance, entry.at), number_of(entry)
        for hypothesis in heard.hypotheses[:_MOST]:
            reading = self._reader.read(replace(heard, hypotheses=(hypothesis,)))
            made = made_by(self._played(reading, now, place=only_place(entry.slots)))
            if 0 < number <= len(made) and made[number - 1].kind is not Kind.REMARK:
                yield taken(entry, made[number - 1])

    def _played(
        self, reading: Reading, now: Now, *, place: Slots, after: Entry | None = None
    ) -> list[Change]:
        """What the words change where nothing was said before, or this entry alone."""
        dialogue = Dialogue(
            self._grammar.zone_map, rails=self._settings.rails, speech=self._settings.speech,
            place=place,
        )  # fmt: skip
        if after is not None:
            dialogue.resume([(Add(after), 0.0)])
        turn = dialogue.take(reading, utterance=now.utterance, at=now.at, at_s=0.0)
        return come_to(turn.changes)


def _opens_with(reading: Reading) -> Act | None:
    """What the first words do that do anything."""
    acts = (statement.act for statement in reading.statements)
    return next((act for act in acts if act is not Act.REMARK), None)


def _shown(heard: Heard) -> str:
    return inert(heard.text, _LONGEST_SHOWN)
