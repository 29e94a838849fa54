"""What lines say, under random input: folded and published; and documents from elsewhere, checked."""

from __future__ import annotations

import json
import random
from collections.abc import Iterator
from functools import cache
from pathlib import Path
from typing import Any

import fuzz_json
from fuzz_target import Target

from voicelog.config.grammar import Grammar, load_grammar
from voicelog.domain.fact import Fact
from voicelog.errors import InputFault
from voicelog.export.contract import faults, validate
from voicelog.export.line_check import misfit
from voicelog.findings.ledger import fold
from voicelog.journal.lines import ENVELOPE
from voicelog.journal.reading import Log
from voicelog.runtime.going_on import rails_then
from voicelog.runtime.logs import Opened, document_of

_VALID = Path(__file__).parents[2] / "shared" / "examples" / "valid"


def facts() -> Target:
    """A log of any facts: a fault with a sentence, or a document; and where each of its lines fits the
    published schema, so does the document.
    """
    return Target("facts: fold, grade, publish", _published, _journals, _altered, longest=12_000)


def document() -> Target:
    """A document of another program: what does not fit the contract is named, whatever it is."""
    return Target("imported documents: check against the contract", _checked, _documents, _altered)


def _published(data: bytes) -> None:
    said = _facts(data)
    if not said:
        return
    grammar = _grammar()
    inspection = fold(said, grammar.zone_map, grammar.rules, rails_then(said[0].body))
    made = document_of(Opened(Log(Path(), said), grammar, inspection))
    wrong = faults(json.loads(json.dumps(made, allow_nan=False)), "inspection")
    assert not wrong or not all(map(_fits, said)), (
        f"published, and not as the contract says: {wrong[0]}"
    )


def _fits(fact: Fact) -> bool:
    return not misfit(fact)


def _facts(data: bytes) -> tuple[Fact, ...]:
    """The facts of a list of bodies, numbered as a journal would; none of what is no such list."""
    try:
        bodies = json.loads(data)
    except (ValueError, RecursionError):
        return ()
    listed = bodies if isinstance(bodies, list) else []
    return tuple(_fact(seq, body) for seq, body in enumerate(listed, 1) if isinstance(body, dict))


def _fact(seq: int, told: dict[str, Any]) -> Fact:
    body = {key: value for key, value in told.items() if key not in ENVELOPE}
    kind = "opened" if seq == 1 else str(told.get("type", "utterance")) or "utterance"
    return Fact(seq, f"2026-03-14T09:00:{seq % 60:02}.000Z", float(seq), "0" * 64, kind, body)


def _checked(data: bytes) -> None:
    """The faults are plain lines, and whoever refuses agrees with who lists them."""
    try:
        told = json.loads(data)
    except (ValueError, RecursionError):
        return
    found = faults(told)
    assert all(line.isascii() and line.isprintable() and len(line) < 2_000 for line in found)
    try:
        validate(told)
    except InputFault:
        assert found
    else:
        assert not found


def _altered(data: bytes, longest: int, more: random.Random) -> bytes:
    """Another document; random bytes would hardly ever be JSON."""
    try:
        told = json.loads(data)
    except (ValueError, RecursionError):
        told = []
    made = json.dumps(fuzz_json.altered(told, more), separators=(",", ":")).encode()
    return made if len(made) <= longest else data


def _journals() -> Iterator[bytes]:
    lines = [json.loads(line) for line in (_VALID / "journal.jsonl").read_bytes().splitlines()]
    yield from (json.dumps([lines[0], line]).encode() for line in lines[1:])
    others = [json.loads(path.read_bytes()) for path in sorted(_VALID.glob("fact-*.json"))]
    yield from (json.dumps([*lines[:3], other]).encode() for other in others)


def _documents() -> Iterator[bytes]:
    for path in sorted(_VALID.glob("*.json")):
        yield path.read_bytes()


@cache
def _grammar() -> Grammar:
    return load_grammar()
