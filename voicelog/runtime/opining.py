"""A second ear's answer, written down and heeded."""

from __future__ import annotations

from dataclasses import dataclass, replace

from voicelog.dialogue.ask import Ask
from voicelog.domain.entry import Finding
from voicelog.domain.opinion import SECOND_OPINION, Opinion
from voicelog.runtime.both_ears import Judged
from voicelog.runtime.session import Session
from voicelog.runtime.understanding import Taken
from voicelog.runtime.utterance_fact import second_body


@dataclass(frozen=True, slots=True)
class Opined:
    """What became of it.

    Args:
        utterance: which one was heard again.
        opinion: what was heard, with its verdict.
        findings: the entries that it changed, as they stand now.
        ask: what has to be said aloud now; None where nothing has.
    """

    utterance: str
    opinion: Opinion
    findings: tuple[Finding, ...] = ()
    ask: Ask | None = None


def opine(session: Session, taken: Taken, opinion: Opinion, *, ask: bool) -> Opined:
    """Write down and heed what a second ear heard after its utterance was acknowledged.

    Args:
        session: the inspection.
        taken: the utterance.
        opinion: what was heard; its verdict is worked out here where there is anything.
        ask: whoever speaks has not gone on meanwhile, and can be asked.

    Raises:
        StorageFault: the disk refuses; nothing was done, and it may be given again.
    """
    understanding = session.understanding
    judged = Judged(opinion.verdict, entries=tuple(entry.id for entry in taken.first.entries))
    if opinion.heard is not None:
        judged = understanding.judge(taken, opinion.heard)
    if not ask or judged.ask is None or not understanding.may_ask(judged.ask):
        judged = replace(judged, ask=None)
    opinion = replace(opinion, verdict=judged.verdict)
    utterance, graded = taken.before.utterance, understanding.graded(judged.changes)
    session.note(SECOND_OPINION, second_body(utterance, opinion, judged, graded))
    aloud = understanding.heed(judged.changes, judged.ask, session.now_s())
    return Opined(utterance, opinion, graded, judged.ask if aloud else None)
