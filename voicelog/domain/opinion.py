"""What a second ear made of an utterance, and what came of it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum
from typing import Any

from voicelog.domain.heard import Heard, heard_from_json, heard_to_json
from voicelog.domain.inert import inert

SECOND_OPINION = "second-opinion"
"""The type of a line that tells what a second ear heard after its utterance was acknowledged."""


LONGEST = 160
"""Characters of what was heard that are shown."""


class Verdict(StrEnum):
    """What a second ear says to what the first one heard."""

    AGREES = "agrees"
    """By itself it tells the same."""
    OUTWEIGHED = "outweighed"
    """By itself it tells something else, but both together tell what the first one told."""
    DIFFERS = "differs"
    """Both together tell something else."""
    NOTHING = "nothing"
    """It heard no word."""
    DROPPED = "dropped"
    """It was not heard, or too late: it had enough to do."""
    FAILED = "failed"
    """It did not live through it."""


@dataclass(frozen=True, slots=True)
class Opinion:
    """A second ear's opinion on one utterance.

    Args:
        reason: why it was asked: ``unsafe``, ``doubtful``, ``contradicted``, ``unexplained`` or
            ``unentered``.
        verdict: what came of it.
        heard: what it heard; None where it heard nothing, or was not asked in the end.
        took_s: seconds it worked.
    """

    reason: str
    verdict: Verdict
    heard: Heard | None = None
    took_s: float = 0.0


_IN_WORDS = {
    Verdict.AGREES: "the same",
    Verdict.OUTWEIGHED: "something else, and was outweighed",
    Verdict.DIFFERS: "something else",
}


def in_words(opinion: Opinion) -> str:
    """What it heard, and what it says to that: ``“left sill hole”: the same``."""
    match opinion.verdict:
        case Verdict.NOTHING:
            return "heard no word"
        case Verdict.DROPPED:
            return "was not asked in time"
        case Verdict.FAILED:
            return "failed"
        case verdict:
            heard = inert(opinion.heard.text if opinion.heard is not None else "", LONGEST)
            return f"“{heard}”: {_IN_WORDS[verdict]}"


def opinion_to_json(opinion: Opinion) -> dict[str, Any]:
    """The opinion as a JSON object."""
    document: dict[str, Any] = {"reason": opinion.reason, "verdict": str(opinion.verdict)}
    if opinion.heard is not None:
        document["heard"] = heard_to_json(opinion.heard)
    return document | {"took_s": round(opinion.took_s, 3)}


def opinion_from_json(document: Mapping[str, Any]) -> Opinion:
    """The way back from :func:`opinion_to_json`.

    Raises:
        KeyError, ValueError, TypeError: when the object is no opinion.
    """
    heard = document.get("heard")
    return Opinion(
        str(document["reason"]),
        Verdict(document["verdict"]),
        None if heard is None else heard_from_json(heard),
        float(document.get("took_s", 0.0)),
    )
