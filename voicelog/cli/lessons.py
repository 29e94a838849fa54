"""``voicelog amend --learn``: what a change taught, tried out and told."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from functools import partial
from pathlib import Path
from typing import Any

from rich.text import Text

from voicelog.config.learned_files import For
from voicelog.config.settings import Settings
from voicelog.domain.entry import Finding
from voicelog.domain.inert import inert
from voicelog.errors import VoicelogError
from voicelog.runtime.bench_log import Done
from voicelog.runtime.learning import Trial
from voicelog.runtime.review import Review
from voicelog.runtime.teaching import lessons, remembered, tried
from voicelog.tongue import worded

_SAID = "reread"
"""The deed whose value is what was said, in place of what was heard."""


@dataclass(frozen=True, slots=True)
class Learnt:
    """One lesson.

    Args:
        trial: it, and what it would change.
        file: where it stands now; None where it was refused, or only tried out.
        fault: why it could not be written.
    """

    trial: Trial
    file: Path | None = None
    fault: VoicelogError | None = None

    @property
    def refused(self) -> str:
        """Why it is not remembered; empty where it is, or would be."""
        return self.trial.refused or (str(self.fault) if self.fault is not None else "")


def learn(
    review: Review,
    settings: Settings,
    done: Done,
    before: Iterable[Finding],
    *,
    for_: For,
    said: str,
    writing: bool,
) -> tuple[Learnt, ...]:
    """Remember what explains a change.

    Args:
        review: the log, after it.
        settings: in force.
        done: the change.
        before: the entries touched, as they stood.
        for_: whom the lessons are for.
        said: the sentence typed anew, for the deed ``reread``.
        writing: False tries them out only.
    """
    words, confirmed = said if done.did == _SAID else "", done.did == "confirm"
    found = (
        (tried(review, lesson, was), was)
        for was in before
        for lesson in lessons(review, was, confirmed=confirmed, said=words)
    )
    keep = partial(_kept, review, settings, for_=for_)
    return tuple(keep(*one) if writing and not one[0].refused else Learnt(one[0]) for one in found)


def _kept(
    review: Review, settings: Settings, found: Trial, before: Finding, *, for_: For
) -> Learnt:
    """The change stands already, so that a fault here is told behind it."""
    try:
        return Learnt(found, remembered(review, settings, found, before, for_=for_))
    except VoicelogError as fault:
        return Learnt(found, fault=fault)


def lesson_lines(learnt: Sequence[Learnt]) -> Iterator[Text]:
    """Each lesson, what else it would have changed, and where it stands."""
    if not learnt:
        yield Text(worded("Nothing to learn: no mishearing explains it"), style="dim")
    for one in learnt:
        lesson = one.trial.lesson
        means = worded(
            "“{heard}” is {say} ({slot} {value})",
            heard=inert(lesson.heard),
            say=inert(lesson.say),
            slot=lesson.slot,
            value=lesson.value,
        )
        if one.refused:
            yield Text(
                worded("Not learned, {means}: {refused}", means=means, refused=inert(one.refused)),
                style="yellow",
            )
            continue
        where = worded(", in {file}", file=inert(str(one.file))) if one.file is not None else ""
        heading = worded("Learned") if one.file else worded("To be learned")
        yield Text(f"{heading}: {means}{where}", style="bold")
        for changed in one.trial.would_change:
            yield Text(
                "  "
                + worded(
                    "it would have changed {utterance}, {line}",
                    utterance=changed.utterance,
                    line=changed.line,
                )
            )


def lessons_json(learnt: Sequence[Learnt]) -> list[dict[str, Any]]:
    """The same for a program; what does not apply is left out."""
    return [dict(_lesson_json(one)) for one in learnt]


def _lesson_json(one: Learnt) -> Iterator[tuple[str, Any]]:
    lesson, found = one.trial.lesson, one.trial
    for name in ("heard", "slot", "value", "say"):
        yield name, inert(str(getattr(lesson, name)))
    yield "would_change", [changed.utterance for changed in found.would_change]
    if one.refused:
        yield "refused", inert(one.refused)
    if one.file is not None:
        yield "file", inert(str(one.file))
