"""Words read twice: with the vocabulary as it is, and with one lesson more."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cached_property

from voicelog.config.grammar import Grammar
from voicelog.config.settings import Settings
from voicelog.domain.entry import Entry, Finding, Kind
from voicelog.domain.heard import Heard
from voicelog.domain.inert import inert
from voicelog.domain.lesson import Lesson
from voicelog.domain.reading import Phrase, Vocabulary
from voicelog.interpret.reader import Reader
from voicelog.runtime.reading_words import reading_in_words
from voicelog.runtime.warm_up_prompts import Sense, sense_of
from voicelog.tongue import worded

_SHOWN = 120
"""Characters of a sentence that are shown."""
_STAND = (Kind.FINDING, Kind.CLEAR)
"""Kinds of entries that a reading was right about, where nobody objected."""


@dataclass(frozen=True, slots=True)
class Changed:
    """An utterance or a sentence that would be read differently.

    Args:
        utterance: its id; empty for a phrase of the vocabulary or a sample.
        text: its words.
        before: how it is read, in words.
        after: how it would be read.
    """

    utterance: str
    text: str
    before: str
    after: str

    @property
    def line(self) -> str:
        """All of it in one line that can be shown."""
        return f"“{inert(self.text, _SHOWN)}”: {self.before} → {self.after}"

    @property
    def as_refusal(self) -> str:
        """Why this is reason enough not to remember the lesson."""
        where = f" ({self.utterance})" if self.utterance else ""
        return worded(
            "{sentence} is rightly read as {before}, and would be read as {after}",
            sentence=f"“{inert(self.text, _SHOWN)}”{where}",
            before=self.before,
            after=self.after,
        )


class Both:
    """Reads with a lesson and without."""

    def __init__(self, lesson: Lesson, settings: Settings, grammar: Grammar) -> None:
        self._map, self._lesson, self._speech = grammar.zone_map, lesson, settings.speech
        self.vocabulary = grammar.vocabulary

    @cached_property
    def _readers(self) -> tuple[Reader, Reader]:
        """Made only where something holds the words: a reader's indexes take their time."""
        ways = (self.vocabulary, taught(self.vocabulary, self._lesson))
        now, then = (Reader(words, self._map, speech=self._speech) for words in ways)
        return now, then

    def difference(self, heard: Heard, name: str = "") -> Changed | None:
        """How the words are read now and how they would be; None where that is the same."""
        reader, taught_reader = self._readers
        now, then = reader.read(heard), taught_reader.read(heard)
        if sense_of(now) == sense_of(then):
            return None
        before, after = (reading_in_words(sense_of(one), self._map) for one in (now, then))
        return Changed(name, then.text, before, after)

    def spoils(self, heard: Heard, made: Sequence[Finding]) -> bool:
        """An entry that stands as it was read would be read differently.

        Args:
            heard: the words.
            made: the entries that they made, in order.
        """
        now, then = (sense_of(reader.read(heard)) for reader in self._readers)
        if len(now) == len(then) == len(made):
            pairs = [(one, now[at], then[at : at + 1]) for at, one in enumerate(made)]
        else:
            pairs = [(one, s, then) for one in made for s in now if _fits(s, one.entry)]
        return any(_is_as_read(one) and not _is_kept(one.entry, s, new) for one, s, new in pairs)


def taught(vocabulary: Vocabulary, lesson: Lesson) -> Vocabulary:
    """The vocabulary with a lesson, as the file of what was learned would make it."""
    alias = Phrase(lesson.heard, lesson.slot, lesson.value, lesson.also, misheard=True)
    kept = tuple(p for p in vocabulary.phrases if not (p.misheard and p.text == lesson.heard))
    return replace(vocabulary, phrases=(*kept, alias))


def _fits(sense: Sense, entry: Entry) -> bool:
    """The entry still says all of it."""
    return all(entry.slots.get(name) == value for name, value in sense.slots.items())


def _is_kept(entry: Entry, sense: Sense, senses: Sequence[Sense]) -> bool:
    """The same is said, or more of what the entry says by now."""
    return sense in senses or any(
        _fits(other, entry)
        and (other.act, other.clear, other.absent) == (sense.act, sense.clear, sense.absent)
        and sense.slots.keys() <= other.slots.keys()
        for other in senses
    )


def _is_as_read(finding: Finding) -> bool:
    """It stands without doubt, and nothing of it was corrected; what was added is no correction."""
    entry, first = finding.entry, (*finding.history, finding.entry)[0]
    kept = all(entry.slots.get(name) == value for name, value in first.slots.items())
    sure = entry.kind in _STAND and entry.kind is first.kind and not entry.doubtful
    return kept and sure and not finding.withdrawn
