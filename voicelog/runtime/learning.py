"""Trying out what a correction teaches, and remembering it for the shop or for one person.

Nothing is remembered that was not tried: what else it would have changed is shown, and a lesson that
would spoil a reading that is right is refused with the example.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date
from functools import cached_property
from pathlib import Path
from typing import Any

from voicelog.config.grammar import Grammar
from voicelog.config.learned_files import For
from voicelog.config.settings import Settings
from voicelog.domain.entry import Entry, Finding, Inspection, Kind
from voicelog.domain.fact import Fact, heard_from_json
from voicelog.domain.heard import Heard
from voicelog.domain.inert import inert
from voicelog.domain.lesson import Lesson
from voicelog.domain.reading import Phrase, Vocabulary
from voicelog.domain.zone import Rails
from voicelog.errors import LogFault, UsageFault
from voicelog.findings.ledger import fold
from voicelog.interpret.reader import Reader
from voicelog.runtime.lesson_words import holds, phrases_with, said_already, samples
from voicelog.runtime.reading_words import reading_in_words
from voicelog.runtime.warm_up_prompts import Sense, sense_of

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


@dataclass(frozen=True, slots=True)
class Trial:
    """What remembering a lesson would do.

    Args:
        lesson: the mishearing.
        would_change: other utterances of the log that it would have changed, in their order.
        refused: why it is not to be remembered, a sentence with the example; empty where it may be.
    """

    lesson: Lesson
    would_change: tuple[Changed, ...] = ()
    refused: str = ""


def trial(
    lesson: Lesson,
    settings: Settings,
    facts: Sequence[Fact],
    grammar: Grammar,
    *,
    inspection: Inspection | None = None,
    utterance: str = "",
) -> Trial:
    """Read again, with the lesson and without, whatever holds its words; nothing is written.

    It is refused where the words are, or hold, a phrase that people say for something else; where
    such a phrase or a bundled sample holds them and would be read differently; and where an entry of
    the log would be lost that stands as it was read: without doubt, and not corrected since.

    Args:
        lesson: the mishearing.
        settings: in force; of a log, with its own way to take the speaker's words.
        facts: of the log; none tries the lesson on the vocabulary and the samples alone.
        grammar: the log's, or that in force.
        inspection: the facts folded, where they are already.
        utterance: the one that was corrected, which is not told again.

    Raises:
        LogFault: the log cannot be folded, or does not say what was heard.
    """
    both = _Both(lesson, settings, grammar)
    refused = said_already(lesson, grammar.vocabulary) or _spoken_so(lesson, both)
    seen = inspection or _folded(facts, grammar)
    changed = []
    for name, heard in _utterances(facts, lesson):
        one = both.difference(heard, name)
        if one is not None and name != utterance:
            changed.append(one)
            refused = refused or (_loss(one) if both.spoils(heard, _standing(seen, name)) else "")
    return Trial(lesson, tuple(changed), refused)


def remember(
    tried: Trial, settings: Settings, *, for_: For, on: date, by: str = "", sentence: str = ""
) -> Path:
    """Write a lesson that was tried to the shop's file, or to the person's.

    Args:
        tried: what :func:`trial` found.
        settings: in force.
        for_: whom it is for.
        on: the day.
        by: who corrected; the person at the machine unless given.
        sentence: the words in which it was misheard.

    Returns:
        The file; it is in force with the next inspection.

    Raises:
        UsageFault: the trial refused it.
        GrammarFault: the file there is damaged and left alone.
        StorageFault: the folder or the disk refused.
    """
    from voicelog.config.learned import learn  # pydantic's models start slowly

    if tried.refused:
        raise UsageFault(f"It is not remembered: {tried.refused}", "Say it another way")
    return learn(settings, tried.lesson, for_=for_, by=by, on=on, sentence=sentence)


def learned_body(lesson: Lesson, *, for_: For, by: str, entry: str) -> dict[str, Any]:
    """What the log's line says of a lesson that was remembered."""
    return {
        "heard": lesson.heard, "slot": lesson.slot, "value": lesson.value, "say": lesson.say,
        "for": for_, "by": by, "entry": entry,
    }  # fmt: skip


class _Both:
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
        now, then = self._senses(heard)
        if now == then:
            return None
        before, after = (reading_in_words(senses, self._map) for senses in (now, then))
        return Changed(name, heard.text, before, after)

    def spoils(self, heard: Heard, standing: Sequence[Entry]) -> bool:
        """What was said of an entry that stands would not be said any more."""
        now, then = self._senses(heard)
        lost = [sense for sense in now if sense not in then]
        return any(_fits(sense, entry) for sense in lost for entry in standing)

    def _senses(self, heard: Heard) -> tuple[tuple[Sense, ...], tuple[Sense, ...]]:
        now, then = (sense_of(reader.read(heard)) for reader in self._readers)
        return now, then


def taught(vocabulary: Vocabulary, lesson: Lesson) -> Vocabulary:
    """The vocabulary with a lesson, as the file of what was learned would make it."""
    alias = Phrase(lesson.heard, lesson.slot, lesson.value, lesson.also, misheard=True)
    kept = tuple(p for p in vocabulary.phrases if not (p.misheard and p.text == lesson.heard))
    return replace(vocabulary, phrases=(*kept, alias))


def _fits(sense: Sense, entry: Entry) -> bool:
    """The entry still says all of it."""
    return all(entry.slots.get(name) == value for name, value in sense.slots.items())


def _spoken_so(lesson: Lesson, both: _Both) -> str:
    """The first phrase or sample that would be read differently, as a reason to refuse."""
    for text in (*phrases_with(lesson, both.vocabulary), *samples(lesson)):
        one = both.difference(Heard.typed(text))
        if one is not None:
            return _loss(one)
    return ""


def _loss(one: Changed) -> str:
    where = f" ({one.utterance})" if one.utterance else ""
    return (
        f"“{inert(one.text, _SHOWN)}”{where} is rightly read as {one.before}, and would be read as "
        f"{one.after}"
    )


def _utterances(facts: Sequence[Fact], lesson: Lesson) -> Iterator[tuple[str, Heard]]:
    """What was heard with the words of the lesson in it, under the ids of the utterances."""
    for fact in facts:
        if "heard" in fact.body:
            heard = _heard(fact)
            if any(holds(lesson.heard, hypothesis.text) for hypothesis in heard.hypotheses):
                yield str(fact.body.get("utterance", "")), heard


def _heard(fact: Fact) -> Heard:
    try:
        return heard_from_json(fact.body["heard"])
    except (KeyError, TypeError, ValueError) as error:
        raise LogFault(
            f"Line {fact.seq} of the log does not say what was heard",
            "Run voicelog verify on the log's folder.",
        ) from error


def _folded(facts: Sequence[Fact], grammar: Grammar) -> Inspection:
    opened = facts[0].body if facts else {}
    rails = Rails(str(opened.get("rails", Rails.MIXED)))
    return fold(facts, grammar.zone_map, grammar.rules, rails)


def _standing(inspection: Inspection, utterance: str) -> list[Entry]:
    """The entries of an utterance that stand as they were read, without doubt."""
    return [
        finding.entry
        for finding in inspection.live
        if finding.entry.utterance == utterance and _is_as_read(finding)
    ]


def _is_as_read(finding: Finding) -> bool:
    """Nothing read was corrected since; what was added later changes nothing of it."""
    entry, first = finding.entry, (*finding.history, finding.entry)[0]
    kept = all(entry.slots.get(name) == value for name, value in first.slots.items())
    return kept and entry.kind in _STAND and entry.kind is first.kind and not entry.doubtful
