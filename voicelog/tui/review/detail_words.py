"""All there is to say about one entry, line by line, each with its name in front."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import timezone

from textual.content import Content

from voicelog.domain.advice import WhatIf
from voicelog.domain.entry import Entry, Finding
from voicelog.domain.grade import Grade
from voicelog.domain.heard import Word
from voicelog.domain.inert import inert
from voicelog.domain.local_time import stamp
from voicelog.domain.opinion import in_words
from voicelog.domain.revision import Alternative
from voicelog.domain.utterance import Utterance
from voicelog.domain.zone import ZoneMap
from voicelog.findings.wording import question_in_words, what_if_in_words
from voicelog.runtime.history_words import Step
from voicelog.tongue import worded, worded_many
from voicelog.tui.entry_words import grade_limits, place_words, trimmed, what_words, why_words
from voicelog.tui.looks import WITHDRAWN, look_of
from voicelog.tui.review.marks import Known, mark_words
from voicelog.tui.review.spoken import WORD_SIGNS, Spoken, sureness

NAME = 9
"""Columns of the names, at least."""

MOST_IFS = 3
"""Things that would have changed a grade, shown at most."""

_WORD_STYLES = {"faint": "bold $tone-ask-ink on $tone-ask", "shaky": "underline", "sure": ""}


@dataclass(frozen=True, slots=True)
class Detail:
    """One entry and what is known of it.

    Args:
        finding: as it stands.
        utterance: that made it; None where the log has none.
        spoken: its words, one of them looked at.
        steps: what happened to it since.
        others: other readings of its sound; None while they are being worked out.
        what_ifs: what would have changed its grade, the worst first.
        was: how it last stood while it was unsafe, where nobody has decided on it since.
    """

    finding: Finding
    utterance: Utterance | None = None
    spoken: Spoken = field(default_factory=Spoken)
    steps: tuple[Step, ...] = ()
    others: tuple[Alternative, ...] | None = None
    what_ifs: tuple[WhatIf, ...] = ()
    was: Entry | None = None


Line = tuple[str, Content]


def title(finding: Finding, zone_map: ZoneMap) -> Content:
    """Grade, id, where, what."""
    look = WITHDRAWN if finding.withdrawn else look_of(finding)
    short = trimmed(finding)
    return Content.assemble(
        (f" {look.sign} {look.word} ", look.style), f" {short.entry.id}  ",
        (place_words(short.entry, zone_map), "bold"), " — ", (what_words(short), "bold $accent"),
    )  # fmt: skip


def detail_lines(
    detail: Detail, known: Known, rules: Mapping[str, str], *, playing: int | None = None
) -> Iterator[Line]:
    """Everything but the title, what is needed first on top.

    Args:
        detail: the entry.
        known: what its marks are told from.
        rules: rule to its sentence.
        playing: the word that is being played, from 0.
    """
    finding = trimmed(detail.finding)
    entry = finding.entry
    yield worded("HEARD"), heard_words(detail.spoken, playing)
    if detail.utterance is not None and detail.utterance.second is not None:
        yield worded("2ND EAR"), Content(in_words(detail.utterance.second))
    if detail.spoken.word_of(detail.finding.entry) is None and entry.text:
        yield worded("READ AS"), Content(f"“{entry.text}”")
    yield from ((worded("DOUBT"), Content(f"? {doubt}")) for doubt in _doubts(finding))
    yield from (
        (worded("ASKED"), Content(inert(question_in_words(q, known.zone_map), 240)))
        for q in entry.questions[:4]
    )
    yield from _others(detail.others, known.zone_map)
    yield from ((worded("WHY"), Content(why)) for why in why_words(finding, rules))
    if detail.was is not None:
        yield worded("WAS"), _was_unsafe(detail.was, known.zone_map)
    limits = tuple(_limits(finding))
    if limits:
        yield worded("BUT"), Content(", ".join(limits))
    cautions = () if finding.withdrawn else finding.cautions
    yield from ((worded("CAUTION"), Content.styled(f"! {told}", "bold")) for told in cautions)
    yield from ((worded("WOULD BE"), Content(would)) for would in _what_ifs(detail.what_ifs))
    yield worded("MARKS"), _marks(finding, known, detail.utterance)
    yield from ((worded("SINCE"), _step(step, known.zone)) for step in reversed(detail.steps))


def heard_words(spoken: Spoken, playing: int | None = None) -> Content:
    """Each word as sure as it was heard; the one looked at in brackets, the one played in guillemets."""
    if not spoken.words:
        return Content(worded("nothing: there are no words"))
    return Content(" ").join(
        _word(word, looked_at=number == spoken.at, playing=number == playing)
        for number, word in enumerate(spoken.words)
    )


def _word(word: Word, *, looked_at: bool, playing: bool) -> Content:
    sure = sureness(word)
    style = _WORD_STYLES[sure]
    text = f"{inert(word.text, 60)}{WORD_SIGNS[sure]}"
    if looked_at:
        text, style = f"[{text}]", style or "bold $accent"
    if playing:
        text, style = f"»{text}«", "bold $tone-voice-ink on $tone-voice"
    return Content.styled(text, style)


def _was_unsafe(before: Entry, zone_map: ZoneMap) -> Content:
    """What it was, and the key that settles that it is less now."""
    was = Finding(before, grade=Grade.UNSAFE)
    look, short = look_of(was), trimmed(was)
    keys = worded("c confirms the change, e edits it")
    return Content.assemble(
        (f" {look.sign} {look.word} ", look.style), f" {place_words(short.entry, zone_map)} — ",
        what_words(short), f"; {keys}",
    )  # fmt: skip


def _doubts(finding: Finding) -> Sequence[str]:
    entry = finding.entry
    return entry.doubts or ((worded("its place was not said"),) if entry.unplaced else ())


def _limits(finding: Finding) -> Iterator[str]:
    """What limits the grade; what is doubtful has lines of its own."""
    if finding.withdrawn:
        yield worded("withdrawn: w makes it hold again")
    yield from grade_limits(finding)


def _what_ifs(what_ifs: Sequence[WhatIf]) -> Iterator[str]:
    """What would have changed the grade; the command tells what has no room here."""
    yield from map(what_if_in_words, what_ifs[:MOST_IFS])
    more = len(what_ifs) - MOST_IFS
    if more > 0:
        yield worded_many("and {count} more: voicelog why", "and {count} more: voicelog why", more)


def _others(others: Sequence[Alternative] | None, zone_map: ZoneMap) -> Iterator[Line]:
    """Each as a whole entry, with the key that takes it."""
    if others is None:
        yield worded("OR"), Content("…")
        return
    for number, other in enumerate(others, 1):
        finding = trimmed(other.finding)
        look = look_of(finding)
        yield worded("OR {number}", number=number), Content.assemble(
            (f" {look.sign} {look.word} ", look.style), " ",
            (place_words(finding.entry, zone_map), "bold"), " — ", what_words(finding),
            "  ", worded("from {words}", words=f"“{inert(other.text, 160)}”"),
        )  # fmt: skip


def _marks(finding: Finding, known: Known, utterance: Utterance | None) -> Content:
    told = [f"{sign} {word}" for sign, word in mark_words(finding, known)]
    if utterance is not None and utterance.typed:
        told.append(worded("typed, not spoken"))
    elif utterance is not None and utterance.clip is None:
        told.append(utterance.lost or worded("no sound kept"))
    return Content("   ".join((stamp(finding.entry.at, known.zone, seconds=True), *told)))


def _step(step: Step, zone: timezone) -> Content:
    return Content(f"{stamp(step.at, zone, seconds=True)} {inert(step.in_words(), 400)}")
