"""Inspections made by hand, and all that a report of them is put together from."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import fields, is_dataclass
from typing import Any

from voicelog.config.grammar import Grammar
from voicelog.domain.change_json import change_to_json
from voicelog.domain.entry import Add, Change, Entry, Kind
from voicelog.domain.fact import Fact
from voicelog.domain.zone import Rails
from voicelog.findings.ledger import fold
from voicelog.findings.vehicle import vehicle_of
from voicelog.report import Material
from voicelog.runtime.advice import advice_of

OWN = ("text", "doubts", "reason", "absent", "unplaced", "place_assumed", "tags", "runner_up")


def opened(**more: Any) -> Fact:
    """The line that opens a log of a pickup, an hour ahead of UTC."""
    body = {
        "log_id": "3f0c7a52-9d4e-4a41-8a53-6a0f0b7f2c11",
        "created": "2026-03-14T08:05:00Z",
        "utc_offset_min": 60,
        "subject": "pickup 12",
        "program": "voicelog 0.1.0",
        "ear": "typed",
        **more,
    }
    return Fact(1, "2026-03-14T08:05:00Z", 0.0, "0" * 64, "opened", body)


def entry(seq: int, kind: Kind = Kind.FINDING, **given: Any) -> Entry:
    """The entry of line ``seq``; what is no field of it is a slot."""
    own = {name: given.pop(name) for name in OWN if name in given}
    own.setdefault("text", " ".join(str(value) for value in given.values()))
    return Entry(f"e{seq}.1", f"u{seq}", f"2026-03-14T08:05:{seq % 60:02}Z", kind, given, **own)


def said(seq: int, *changes: Change) -> Fact:
    """A line of the inspection that changes this."""
    body = {"utterance": f"u{seq}", "changes": [change_to_json(change) for change in changes]}
    return Fact(seq, f"2026-03-14T08:05:{seq % 60:02}Z", float(seq), "0" * 64, "utterance", body)


def at_the_bench(seq: int, did: str, *changes: Change, by: str = "Sam") -> Fact:
    """A correction at the bench."""
    body = {"did": did, "by": by, "changes": [change_to_json(change) for change in changes]}
    return Fact(seq, "2026-03-15T09:00:00Z", float(seq), "0" * 64, "revised", body)


def log_of(*entries: Entry, **more: Any) -> tuple[Fact, ...]:
    """A log in which these were said, each in the line of its id."""
    return (opened(**more), *(said(int(e.id[1:].split(".")[0]), Add(e)) for e in entries))


def material(grammar: Grammar, *facts: Fact, rails: Rails = Rails.OPEN, **more: Any) -> Material:
    """All that a report of this log is made of, as the runtime gathers it."""
    zone_map, rules = grammar.zone_map, grammar.rules
    inspection = fold(facts, zone_map, rules, rails)
    found: dict[str, Any] = {
        "vehicle": vehicle_of(facts, inspection),
        "advice": advice_of(inspection, grammar, rails),
        "last_sha256": "ab" * 32,
    }
    return Material(facts, inspection, zone_map, rules, rails, **found | more)


def texts(part: object, but: tuple[str, ...] = ()) -> Iterator[str]:
    """Every text in a report or a part of one; fields in ``but`` are left out."""
    if isinstance(part, str):
        yield part
    elif isinstance(part, tuple):
        for one in part:
            yield from texts(one, but)
    elif is_dataclass(part) and not isinstance(part, type):
        for field in fields(part):
            if field.name not in but:
                yield from texts(getattr(part, field.name), but)
