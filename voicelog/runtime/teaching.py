"""What a correction at the bench teaches: tried on its log, remembered, and told in the log."""

from __future__ import annotations

from datetime import date
from pathlib import Path

from voicelog.config.learned_files import For
from voicelog.config.settings import Settings
from voicelog.domain.entry import Finding
from voicelog.domain.lesson import Lesson
from voicelog.interpret.lessons import Lessons
from voicelog.runtime.learning import Trial, learned_body, remember, trial
from voicelog.runtime.review import Review


def lessons(
    review: Review, before: Finding, *, confirmed: bool = False, said: str = ""
) -> tuple[Lesson, ...]:
    """The mishearings that explain a correction; none where the words were typed, not heard.

    Args:
        review: the log, after the correction.
        before: the entry as it stood.
        confirmed: it was doubtful and is right as it stands.
        said: the sentence that was typed or spoken in place of what was heard.
    """
    if review.utterance(before.entry.id).typed:
        return ()
    grammar, entry = review.grammar, before.entry
    found = Lessons(grammar.vocabulary, grammar.zone_map, speech=review.settings.speech)
    if said:
        return found.of_texts(entry.text, said)
    now = review.finding(entry.id).entry
    return found.of_correction(entry.text, entry.slots, now.slots, confirmed=confirmed)


def tried(review: Review, lesson: Lesson, before: Finding) -> Trial:
    """What remembering it would change in the log, the utterance that was corrected left out.

    Raises:
        LogFault: the log does not say what was heard.
    """
    return trial(
        lesson, review.settings, review.facts, review.grammar,
        inspection=review.inspection(), utterance=before.entry.utterance,
    )  # fmt: skip


def remembered(
    review: Review, settings: Settings, found: Trial, before: Finding, *, for_: For
) -> Path:
    """Write a lesson to the vocabulary, then into the log; returns the vocabulary's file.

    Args:
        review: the log, after the correction.
        settings: in force; they say where what is learned lies.
        found: the lesson, tried.
        before: the entry as it stood.
        for_: whom it is for.

    Raises:
        UsageFault: the trial refused it.
        GrammarFault: the file there is damaged and left alone.
        StorageFault: the disk refused.
    """
    by, sentence, today = review.by, before.entry.text, date.today()
    path = remember(found, settings, for_=for_, on=today, by=by, sentence=sentence)
    body = learned_body(found.lesson, for_=for_, by=by, entry=before.entry.id)
    review.note("learned", body)
    return path
