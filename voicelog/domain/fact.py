"""Facts as they are written to a log: plain JSON objects, and the way back.

A fact is one line of the journal. ``Fact.body`` is what the program has to say; order, time and
the chain of hashes are the journal's own business.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from voicelog.domain.entry import Add, Amend, Change, Entry, Kind, Question, Withdraw
from voicelog.domain.heard import Heard
from voicelog.domain.slot import Ranges

FORMAT = 0
"""Version of the journal's lines; a reader refuses a newer one."""


@dataclass(frozen=True, slots=True)
class Fact:
    """One line of a journal.

    Args:
        seq: 1 for the first line, then one more each.
        at: wall-clock time, RFC 3339, UTC.
        offset_s: seconds since the log was opened, from a monotonic clock.
        prev: SHA-256 of the line before, 64 zeros in the first.
        type: ``opened``, ``utterance``, ``gap``, ``closed``; readers keep unknown ones.
        body: the rest of the line.
    """

    seq: int
    at: str
    offset_s: float
    prev: str
    type: str
    body: Mapping[str, Any]


def entry_to_json(entry: Entry) -> dict[str, Any]:
    """The entry as a JSON object; what is empty is left out."""
    document: dict[str, Any] = {
        "id": entry.id,
        "utterance": entry.utterance,
        "at": entry.at,
        "kind": str(entry.kind),
        "slots": dict(entry.slots),
    }
    optional: dict[str, Any] = {
        "text": entry.text,
        "doubts": list(entry.doubts),
        "reason": entry.reason,
        "questions": _questions_to_json(entry.questions),
        "absent": list(entry.absent),
        "unplaced": entry.unplaced,
        "place_assumed": entry.place_assumed,
        "tags": list(entry.tags),
        "runner_up": dict(entry.runner_up),
        "ranges": _ranges_to_json(entry.ranges),
    }
    return document | {name: value for name, value in optional.items() if value}


def entry_from_json(document: Mapping[str, Any]) -> Entry:
    """The way back from :func:`entry_to_json`.

    Raises:
        KeyError, ValueError, TypeError: when the object is not an entry.
    """
    return Entry(
        id=document["id"],
        utterance=document["utterance"],
        at=document["at"],
        kind=Kind(document["kind"]),
        slots=dict(document["slots"]),
        text=document.get("text", ""),
        doubts=tuple(document.get("doubts", ())),
        reason=document.get("reason", ""),
        questions=_questions_from_json(document.get("questions", ())),
        absent=tuple(document.get("absent", ())),
        unplaced=bool(document.get("unplaced", False)),
        place_assumed=bool(document.get("place_assumed", False)),
        tags=tuple(document.get("tags", ())),
        runner_up=dict(document.get("runner_up", {})),
        ranges=_ranges_from_json(document.get("ranges", {})),
    )


def _questions_to_json(questions: Iterable[Question]) -> list[dict[str, Any]]:
    return [{"slot": q.slot, "options": list(q.options)} for q in questions]


def _questions_from_json(documents: Iterable[Mapping[str, Any]]) -> tuple[Question, ...]:
    return tuple(Question(q["slot"], tuple(q["options"])) for q in documents)


def _ranges_to_json(ranges: Ranges) -> dict[str, list[float]]:
    return {name: list(ends) for name, ends in ranges.items()}


def _ranges_from_json(document: Mapping[str, Any]) -> Ranges:
    return {name: (low, high) for name, (low, high) in document.items()}


def change_to_json(change: Change) -> dict[str, Any]:
    """A change as a JSON object whose ``do`` says which kind it is."""
    match change:
        case Add(entry):
            return {"do": "add", "entry": entry_to_json(entry)}
        case Withdraw(entry_id):
            return {"do": "withdraw", "entry": entry_id}
        case Amend():
            document: dict[str, Any] = {
                "do": "amend",
                "entry": change.entry,
                "set": dict(change.set),
                "why": change.why,
            }
            if change.drop:
                document["drop"] = list(change.drop)
            if change.kind is not None:
                document["kind"] = str(change.kind)
            if change.doubts is not None:
                document["doubts"] = list(change.doubts)
            if change.absent is not None:
                document["absent"] = list(change.absent)
            if change.questions is not None:
                document["questions"] = _questions_to_json(change.questions)
            if change.ranges:
                document["ranges"] = _ranges_to_json(change.ranges)
            return document


def change_from_json(document: Mapping[str, Any]) -> Change:
    """The way back from :func:`change_to_json`.

    Raises:
        KeyError, ValueError, TypeError: when the object is not a change.
    """
    match document["do"]:
        case "add":
            return Add(entry_from_json(document["entry"]))
        case "withdraw":
            return Withdraw(document["entry"])
        case "amend":
            doubts, absent = document.get("doubts"), document.get("absent")
            questions = document.get("questions")
            return Amend(
                entry=document["entry"],
                set=dict(document["set"]),
                why=document["why"],
                drop=tuple(document.get("drop", ())),
                kind=Kind(document["kind"]) if "kind" in document else None,
                doubts=None if doubts is None else tuple(doubts),
                absent=None if absent is None else tuple(absent),
                questions=None if questions is None else _questions_from_json(questions),
                ranges=_ranges_from_json(document.get("ranges", {})),
            )
        case other:
            raise ValueError(f"unknown change {other!r}")


def heard_to_json(heard: Heard) -> dict[str, Any]:
    """What an ear heard as a JSON object, words with what is known of them."""
    return {
        "engine": heard.engine,
        "model": heard.model,
        "hypotheses": [
            {
                "text": hypothesis.text,
                "score": round(hypothesis.score, 4),
                "words": [
                    {
                        name: value
                        for name, value in (
                            ("text", word.text),
                            ("confidence", word.confidence),
                            ("start_s", word.start_s),
                            ("end_s", word.end_s),
                        )
                        if value is not None
                    }
                    for word in hypothesis.words
                ],
            }
            for hypothesis in heard.hypotheses
        ],
    }
