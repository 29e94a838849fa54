"""All there is to say about one entry, line by line, each with its name in front."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import timezone

from textual.content import Content

from voicelog.domain.advice import WhatIf
from voicelog.domain.entry import Finding
from voicelog.domain.heard import Word
from voicelog.domain.inert import inert
from voicelog.domain.local_time import stamp
from voicelog.domain.opinion import in_words
from voicelog.domain.revision import Alternative
from voicelog.domain.utterance import Utterance
from voicelog.domain.zone import ZoneMap
from voicelog.findings.wording import question_in_words, what_if_in_words
from voicelog.runtime.history_words import Step
from voicelog.tui.entry_words import limit_words, place_words, trimmed, what_words, why_words
from voicelog.tui.looks import Look, look_of
from voicelog.tui.review.marks import Known, mark_words
from voicelog.tui.review.row_words import WITHDRAWN
from voicelog.tui.review.spoken import WORD_SIGNS, Spoken, sureness

NAME = 9
"""Columns of the names."""

MOST_IFS = 3
"""Things that would have changed a grade, shown at most."""

WITHDRAWN_LOOK = Look(WITHDRAWN[2:], "–", "plain")

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
    """

    finding: Finding
    utterance: Utterance | None = None
    spoken: Spoken = field(default_factory=Spoken)
    steps: tuple[Step, ...] = ()
    others: tuple[Alternative, ...] | None = None
    what_ifs: tuple[WhatIf, ...] = ()


Line = tuple[str, Content]


def title(finding: Finding, zone_map: ZoneMap) -> Content:
    """Grade, id, where, what."""
    look = WITHDRAWN_LOOK if finding.withdrawn else look_of(finding)
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
    yield "HEARD", heard_words(detail.spoken, playing)
    if detail.utterance is not None and detail.utterance.second is not None:
        yield "2ND EAR", Content(in_words(detail.utterance.second))
    if detail.spoken.word_of(detail.finding.entry) is None and entry.text:
        yield "READ AS", Content(f"“{entry.text}”")
    yield from (("DOUBT", Content(f"? {doubt}")) for doubt in _doubts(finding))
    yield from (
        ("ASKED", Content(inert(question_in_words(q, known.zone_map), 240)))
        for q in entry.questions[:4]
    )
    yield from _others(detail.others, known.zone_map)
    yield from (("WHY", Content(why)) for why in why_words(finding, rules))
    limits = [_limit(limit) for limit in limit_words(finding) if "doubtful" not in limit]
    if limits:
        yield "BUT", Content(", ".join(limits))
    yield from (("CAUTION", Content.styled(f"! {told}", "bold")) for told in finding.cautions)
    yield from (("WOULD BE", Content(would)) for would in _what_ifs(detail.what_ifs))
    yield "MARKS", _marks(finding, known, detail.utterance)
    yield from (("SINCE", _step(step, known.zone)) for step in reversed(detail.steps))


def heard_words(spoken: Spoken, playing: int | None = None) -> Content:
    """Each word as sure as it was heard; the one looked at in brackets, the one played in guillemets."""
    if not spoken.words:
        return Content("nothing: there are no words")
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


def _doubts(finding: Finding) -> Sequence[str]:
    entry = finding.entry
    return entry.doubts or (("its place was not said",) if entry.unplaced else ())


def _limit(limit: str) -> str:
    return "withdrawn: w makes it hold again" if limit == "withdrawn" else limit


def _what_ifs(what_ifs: Sequence[WhatIf]) -> Iterator[str]:
    """What would have changed the grade; the command tells what has no room here."""
    yield from map(what_if_in_words, what_ifs[:MOST_IFS])
    if len(what_ifs) > MOST_IFS:
        yield f"and {len(what_ifs) - MOST_IFS} more: voicelog why"


def _others(others: Sequence[Alternative] | None, zone_map: ZoneMap) -> Iterator[Line]:
    """Each as a whole entry, with the key that takes it."""
    if others is None:
        yield "OR", Content("…")
        return
    for number, other in enumerate(others, 1):
        finding = trimmed(other.finding)
        look = look_of(finding)
        yield f"OR {number}", Content.assemble(
            (f" {look.sign} {look.word} ", look.style), " ",
            (place_words(finding.entry, zone_map), "bold"), " — ", what_words(finding),
            f"  from “{inert(other.text, 160)}”",
        )  # fmt: skip


def _marks(finding: Finding, known: Known, utterance: Utterance | None) -> Content:
    told = [f"{sign} {word}" for sign, word in mark_words(finding, known)]
    if utterance is not None and utterance.typed:
        told.append("typed, not spoken")
    elif utterance is not None and utterance.clip is None:
        told.append(utterance.lost or "no sound kept")
    return Content("   ".join((stamp(finding.entry.at, known.zone, seconds=True), *told)))


def _step(step: Step, zone: timezone) -> Content:
    return Content(f"{stamp(step.at, zone, seconds=True)} {inert(step.in_words(), 400)}")
