"""What was done at the bench, as the whole document hands it over: corrections and signatures."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from voicelog.domain.entry import entry_id
from voicelog.domain.fact import Fact, changes_of
from voicelog.domain.revision import Signature
from voicelog.domain.signing import changed_after, entries_after, signatures
from voicelog.export.values import clean


def bench_notes(facts: Sequence[Fact]) -> Mapping[str, dict[str, Any]]:
    """Entry to its ``revised`` and ``after_signing``; entries without either are left out.

    Raises:
        LogFault: a line holds a change that cannot be read.
    """
    notes: dict[str, dict[str, Any]] = {}
    for fact in facts:
        if fact.type == "revised":
            for name in dict.fromkeys(map(entry_id, changes_of(fact))):
                notes.setdefault(name, {}).setdefault("revised", []).append(_revision(fact))
    for name in entries_after(facts):
        notes.setdefault(name, {})["after_signing"] = True
    return notes


def signatures_to_json(facts: Sequence[Fact]) -> list[dict[str, Any]]:
    """Every signature, the oldest first, with the numbers of the lines that changed since.

    Raises:
        LogFault: a line that signs does not say who signed what.
    """
    return [dict(_signature(signature, facts)) for signature in signatures(facts)]


def _revision(fact: Fact) -> dict[str, Any]:
    by, did, why = (clean(str(fact.body.get(name, ""))) for name in ("by", "did", "why"))
    told = {"at": fact.at, "by": by, "did": did}
    return told | {"why": why} if why else told


def _signature(signature: Signature, facts: Sequence[Fact]) -> Iterator[tuple[str, Any]]:
    """Key by key; what does not apply is left out."""
    yield from {"by": clean(signature.by), "at": signature.at}.items()
    yield from {"lines": signature.lines, "sha256": signature.sha256}.items()
    if signature.open:
        yield "open", [clean(point) for point in signature.open]
    if signature.why:
        yield "why", clean(signature.why)
    later = changed_after(facts, signature)
    if later:
        yield "changed_after", list(later)
