"""Trying out what a correction teaches, and remembering it for the shop or for one person.

Nothing is remembered that was not tried: what else it would have changed is shown, and a lesson that
would spoil a reading that is right is refused with the example.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from typing import Any

from voicelog.config.grammar import Grammar
from voicelog.config.learned_files import For
from voicelog.config.settings import Settings
from voicelog.domain.entry import Finding, Inspection, Kind
from voicelog.domain.fact import Fact
from voicelog.domain.heard import Heard, heard_from_json
from voicelog.domain.lesson import Lesson
from voicelog.errors import LogFault, UsageFault
from voicelog.findings.ledger import fold
from voicelog.runtime.going_on import rails_then
from voicelog.runtime.lesson_words import holds, makes_findings, phrases_with, said_already, samples
from voicelog.runtime.taught import Both, Changed
from voicelog.tongue import worded


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
    they are one everyday word, which would make findings of talk; where such a phrase or a bundled
    sample holds them and would be read differently; and where an entry of the log would be lost that
    stands as it was read: without doubt, and not corrected since.

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
    both = Both(lesson, settings, grammar)
    refused = said_already(lesson, grammar.vocabulary) or makes_findings(lesson)
    refused = refused or _spoken_so(lesson, both)
    seen = inspection or _folded(facts, grammar)
    changed = []
    for name, heard in _utterances(facts, lesson):
        one = both.difference(heard, name)
        if one is not None and name != utterance:
            changed.append(one)
            refused = refused or (one.as_refusal if both.spoils(heard, _made(seen, name)) else "")
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
        raise UsageFault(
            worded("It is not remembered: {refused}", refused=tried.refused),
            worded("Say it another way"),
        )
    return learn(settings, tried.lesson, for_=for_, by=by, on=on, sentence=sentence)


def learned_body(lesson: Lesson, *, for_: For, by: str, entry: str) -> dict[str, Any]:
    """What the log's line says of a lesson that was remembered."""
    return {
        "heard": lesson.heard, "slot": lesson.slot, "value": lesson.value, "say": lesson.say,
        "for": for_, "by": by, "entry": entry,
    }  # fmt: skip


def _spoken_so(lesson: Lesson, both: Both) -> str:
    """The first phrase or sample that would be read differently, as a reason to refuse."""
    for text in (*phrases_with(lesson, both.vocabulary), *samples(lesson)):
        one = both.difference(Heard.typed(text))
        if one is not None:
            return one.as_refusal
    return ""


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
            worded("Line {seq} of the log does not say what was heard", seq=fact.seq),
            worded("Run voicelog verify on the log's folder."),
        ) from error


def _folded(facts: Sequence[Fact], grammar: Grammar) -> Inspection:
    opened = facts[0].body if facts else {}
    return fold(facts, grammar.zone_map, grammar.rules, rails_then(opened))


def _made(inspection: Inspection, utterance: str) -> list[Finding]:
    """The entries of an utterance, remarks left out, in the order in which they were said."""
    own = (one for one in inspection.findings if one.entry.utterance == utterance)
    return [one for one in own if one.entry.kind is not Kind.REMARK]
