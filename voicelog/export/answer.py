"""The short answer: the entries that hold, in order, and the verdict, as plain JSON objects.

Kept free of pydantic, which would cost most of the start-up time of a single reading; the
contract in :mod:`voicelog.export.contract` describes what is built here, and tests hold the two
together.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from voicelog.domain.entry import Entry, Finding, Inspection, Kind
from voicelog.domain.grade import Gap, Verdict
from voicelog.export.values import (
    UNPLACED,
    clean,
    ranges_to_json,
    slots_to_json,
    texts,
    word_to_json,
)


def answer(inspection: Inspection) -> dict[str, Any]:
    """What ``--json`` prints: the entries that hold, in order, and the verdict.

    Args:
        inspection: a folded log, or what was read from text alone.

    Returns:
        ``{"entries": [...], "verdict": {"drive", "work", "tier", "could_change"}}``, made of plain
        JSON values only; it fits ``shared/schema/answer.schema.json``.
    """
    return {
        "entries": [entry_document(finding) for finding in inspection.live],
        "verdict": verdict_to_json(inspection.verdict),
    }


def entry_document(finding: Finding) -> dict[str, Any]:
    """An entry as :func:`answer` has it."""
    if finding.entry.kind is not Kind.FINDING:
        return state_document(finding.entry, {})
    grades = {
        "grade": finding.grade,
        "computed_grade": finding.computed_grade,
        "spoken_grade": finding.spoken_grade,
    }
    return state_document(
        finding.entry,
        {
            **{name: str(grade) for name, grade in grades.items() if grade is not None},
            "rules": texts(finding.rules),
            "unproven": finding.unproven,
        },
    )


def state_document(entry: Entry, graded: Mapping[str, Any]) -> dict[str, Any]:
    """One state of an entry; a slot the contract has no room for makes it doubtful, never vanishes.

    Args:
        entry: as it stands, or stood.
        graded: what only a graded finding has.
    """
    assumed = {"certainty": "stated"} if entry.kind is Kind.FINDING else {}
    slots, lost = slots_to_json({**assumed, **entry.slots})
    lost += ("absent",) * (len(_absent(entry)) < len(entry.absent))
    doubts = [*texts(entry.doubts), *(f"{name}: no usable value" for name in lost)]
    head = {
        "id": clean(entry.id),
        "at": clean(entry.at),
        "utterance": clean(entry.utterance),
        "kind": str(entry.kind),
        "doubtful": bool(doubts),
    }
    return head | slots | dict(graded) | _circumstances(entry, doubts)


def _circumstances(entry: Entry, doubts: list[str]) -> dict[str, Any]:
    """What applies to some entries only; what does not apply is left out."""
    everything: dict[str, Any] = {
        "place_assumed": entry.place_assumed,
        "unplaced": entry.unplaced,
        "reason": clean(entry.reason),
        "absent": _absent(entry),
        "tags": texts(entry.tags),
        "questions": [
            {"slot": clean(question.slot), "options": texts(question.options)}
            for question in entry.questions
        ],
        "runner_up": slots_to_json(entry.runner_up)[0],
        "ranges": ranges_to_json(entry.ranges),
        "doubts": doubts,
        "text": clean(entry.text),
    }
    return {name: value for name, value in everything.items() if value}


def _absent(entry: Entry) -> list[str]:
    return [name for name in entry.absent if word_to_json("condition", name)]


def verdict_to_json(verdict: Verdict) -> dict[str, Any]:
    """The three answers and what could change them; the reasons stand in the whole document only."""
    return {
        "drive": verdict.drive,
        "work": verdict.work,
        "tier": verdict.tier,
        "could_change": [gap_to_json(gap) for gap in verdict.could_change],
    }


def gap_to_json(gap: Gap) -> dict[str, Any]:
    """A place that is still open; what is not known is left out."""
    told = {
        "zone": word_to_json("zone", gap.zone) or UNPLACED,
        "why": gap.why,
        "side": word_to_json("side", gap.side),
        "face": word_to_json("face", gap.face),
        "entry": gap.entry,
        "reason": gap.reason,
    }
    return {name: clean(value) for name, value in told.items() if value}
