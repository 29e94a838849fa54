"""Entries and their changes as plain JSON objects, and the way back."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from sys import intern
from typing import Any

from voicelog.domain.entry import (
    Add,
    Amend,
    Change,
    Entry,
    Kind,
    Question,
    Replace,
    Restore,
    Withdraw,
)
from voicelog.domain.slot import Ranges, SlotValue


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
    given = {name: read(document[name]) for name, read in _OPTIONAL.items() if name in document}
    return Entry(
        _text(document["id"]),
        _text(document["utterance"]),
        _text(document["at"]),
        _KINDS[document["kind"]],
        _slots(document["slots"]),
        **(_NONE | given),
    )


def _text(value: object) -> str:
    if not isinstance(value, str):
        raise TypeError(f"{value!r} is no text")
    return value


def _texts(values: object) -> tuple[str, ...]:
    if not isinstance(values, list | tuple):
        raise TypeError(f"{values!r} is no list")
    return tuple(map(_text, values))


def _slots(values: Mapping[str, Any]) -> dict[str, SlotValue]:
    """Text and numbers as they were kept; nothing else fits in a slot. The same words come again and
    again, and are kept once.
    """
    if not isinstance(values, Mapping) or not _SLOTTED.issuperset(map(type, values.values())):
        raise TypeError(f"{values!r} are no slots")
    return {name: intern(v) if type(v) is str else v for name, v in values.items()}


_SLOTTED = frozenset((str, int, float))


def _questions_to_json(questions: Iterable[Question]) -> list[dict[str, Any]]:
    return [{"slot": q.slot, "options": list(q.options)} for q in questions]


def _questions_from_json(documents: Iterable[Mapping[str, Any]]) -> tuple[Question, ...]:
    return tuple(Question(_text(q["slot"]), _texts(q["options"])) for q in documents)


def _ranges_to_json(ranges: Ranges) -> dict[str, list[float]]:
    return {name: list(ends) for name, ends in ranges.items()}


def _ranges_from_json(document: Mapping[str, Any]) -> Ranges:
    if not isinstance(document, Mapping):
        raise TypeError(f"{document!r} are no ranges")
    return {name: (float(low), float(high)) for name, (low, high) in document.items()}


_KINDS: Mapping[str, Kind] = {str(kind): kind for kind in Kind}

_NONE: dict[str, Any] = {"runner_up": {}, "ranges": {}}
"""Made once for all entries: most have neither."""

_OPTIONAL: Mapping[str, Callable[[Any], Any]] = {
    "text": _text,
    "doubts": _texts,
    "reason": _text,
    "questions": _questions_from_json,
    "absent": _texts,
    "unplaced": bool,
    "place_assumed": bool,
    "tags": _texts,
    "runner_up": _slots,
    "ranges": _ranges_from_json,
}
"""What an entry need not have, and how each is read; most have hardly any of it."""


def change_to_json(change: Change) -> dict[str, Any]:
    """A change as a JSON object whose ``do`` says which kind it is."""
    match change:
        case Add(entry):
            return {"do": "add", "entry": entry_to_json(entry)}
        case Withdraw(entry_id):
            return {"do": "withdraw", "entry": entry_id}
        case Restore(entry_id):
            return {"do": "restore", "entry": entry_id}
        case Replace(entry):
            return {"do": "replace", "entry": entry_to_json(entry)}
        case Amend():
            return _amend_to_json(change)


def _amend_to_json(change: Amend) -> dict[str, Any]:
    document: dict[str, Any] = {
        "do": "amend",
        "entry": change.entry,
        "set": dict(change.set),
        "why": change.why,
    }
    optional: dict[str, Any] = {
        "drop": list(change.drop) or None,
        "kind": None if change.kind is None else str(change.kind),
        "doubts": None if change.doubts is None else list(change.doubts),
        "absent": None if change.absent is None else list(change.absent),
        "questions": None if change.questions is None else _questions_to_json(change.questions),
        "ranges": _ranges_to_json(change.ranges) or None,
    }
    return document | {name: value for name, value in optional.items() if value is not None}


def change_from_json(document: Mapping[str, Any]) -> Change:
    """The way back from :func:`change_to_json`.

    Raises:
        KeyError, ValueError, TypeError: when the object is not a change.
    """
    match document["do"]:
        case "add":
            return Add(entry_from_json(document["entry"]))
        case "withdraw":
            return Withdraw(_text(document["entry"]))
        case "restore":
            return Restore(_text(document["entry"]))
        case "replace":
            return Replace(entry_from_json(document["entry"]))
        case "amend":
            doubts, absent = document.get("doubts"), document.get("absent")
            questions = document.get("questions")
            return Amend(
                entry=_text(document["entry"]),
                set=_slots(document["set"]),
                why=_text(document["why"]),
                drop=_texts(document.get("drop", ())),
                kind=Kind(document["kind"]) if "kind" in document else None,
                doubts=None if doubts is None else _texts(doubts),
                absent=None if absent is None else _texts(absent),
                questions=None if questions is None else _questions_from_json(questions),
                ranges=_ranges_from_json(document.get("ranges", {})),
            )
        case other:
            raise ValueError(f"unknown change {other!r}")


def changes_from_json(documents: Iterable[Any]) -> tuple[Change, ...]:
    """Several changes, in order.

    Raises:
        KeyError, ValueError, TypeError: when one of them is not a change.
    """
    return tuple(change_from_json(_object(document)) for document in documents)


def _object(document: object) -> Mapping[str, object]:
    if not isinstance(document, Mapping):
        raise TypeError(f"{document!r} is no object")
    return document
