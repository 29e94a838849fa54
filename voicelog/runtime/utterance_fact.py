"""One utterance as the body of its fact: what was heard, how it was read, what it changed."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from voicelog.dialogue.dialogue import Turn
from voicelog.domain.change_json import change_to_json
from voicelog.domain.entry import Finding
from voicelog.domain.heard import Heard, heard_to_json
from voicelog.domain.opinion import Opinion, opinion_to_json
from voicelog.domain.reading import Reading
from voicelog.runtime.both_ears import Judged


def utterance_body(
    utterance: str,
    heard: Heard,
    reading: Reading,
    turn: Turn,
    findings: Iterable[Finding],
    opinion: Opinion | None = None,
) -> dict[str, Any]:
    """The body; its clip is added by who keeps it.

    ``graded`` holds the grades as they were told at that moment, so that a program which follows
    the journal needs no rules of its own; folding a log works them out anew.
    """
    body: dict[str, Any] = {
        "utterance": utterance,
        "heard": heard_to_json(heard),
        "reading": {
            "text": reading.text, "score": reading.score, "margin": reading.margin,
            "acts": [str(statement.act) for statement in reading.statements],
        },
        "changes": [change_to_json(change) for change in turn.changes],
    }  # fmt: skip
    if turn.runner_up:
        body["reading"]["runner_up"] = [change_to_json(change) for change in turn.runner_up]
    if opinion is not None:
        body["second"] = opinion_to_json(opinion)
    graded = grades_told(findings)
    return body | {"graded": graded} if graded else body


def second_body(
    utterance: str, opinion: Opinion, judged: Judged, graded: Iterable[Finding]
) -> dict[str, Any]:
    """What a second ear said after an utterance was acknowledged, as the body of its fact.

    Args:
        utterance: its id.
        opinion: what was heard.
        judged: what that changes, and what is proposed to somebody who can affirm it.
        graded: the entries that it changes, as they stand after it.
    """
    body: dict[str, Any] = {
        "utterance": utterance,
        "second": opinion_to_json(opinion),
        "entries": list(judged.entries),
        "changes": [change_to_json(change) for change in judged.changes],
    }
    if judged.ask is not None:
        body["proposed"] = [change_to_json(change) for change in judged.ask.changes]
    grades = grades_told(graded)
    return body | {"graded": grades} if grades else body


def grades_told(findings: Iterable[Finding]) -> dict[str, dict[str, Any]]:
    """Entry to its grade and the rules that gave it, for those that have one."""
    return {finding.entry.id: _grade(finding) for finding in findings if _counts(finding)}


def _counts(finding: Finding) -> bool:
    return finding.grade is not None and not finding.withdrawn


def _grade(finding: Finding) -> dict[str, Any]:
    grade: dict[str, Any] = {"grade": str(finding.grade), "rules": list(finding.rules)}
    return grade | {"unproven": True} if finding.unproven else grade
