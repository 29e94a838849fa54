"""Lines of a journal with one value in the wrong shape: refused, or good for everything."""

from __future__ import annotations

import copy
import json
import random
from collections.abc import Iterable, Sequence
from pathlib import Path
from typing import Any

import hostile_logs as logs

from voicelog.config.grammar import Grammar, load_grammar
from voicelog.config.settings import Settings
from voicelog.domain.fact import Fact
from voicelog.domain.photo import photos_of
from voicelog.errors import LogFault
from voicelog.export.contract import faults
from voicelog.export.document import log_document
from voicelog.export.json_file import json_text
from voicelog.export.line_check import misfit
from voicelog.findings.ledger import fold
from voicelog.findings.vehicle import vehicle_of
from voicelog.journal.lines import decode
from voicelog.runtime.going_on import as_then
from voicelog.runtime.reviewed import Reviewed


def odd_lines(log: Path, seed: int, most: int) -> tuple[int, int, list[str]]:
    """Try misshapen values in the lines of a log, one at a time.

    Args:
        log: one that means no harm; it is only read.
        seed: of which are tried.
        most: how many.

    Returns:
        How many were tried, how many of them fit the contract, and a sentence on each that did
        other than it should.
    """
    lines = logs.lines_of(log) + _more(logs.lines_of(log)[-1])
    grammar, fitting, wrong = load_grammar(), 0, list[str]()
    assert _used(lines, grammar) == (True, ""), "the lines mean no harm yet"
    everything = list(logs.misshapen(lines))
    chosen = random.Random(seed).sample(everything, min(most, len(everything)))
    for way, odd in chosen:
        changed = copy.deepcopy(lines)
        logs.put(changed, way, odd)
        fits, fault = _used(changed, grammar)
        fitting += fits
        if fault:
            wrong.append(f"{'/'.join(map(str, way))} = {odd!r:.30}: {fault}")
    return len(chosen), fitting, wrong


def _more(last: logs.Line) -> logs.Lines:
    """Lines of the bench, one of each kind."""
    bodies: Sequence[tuple[str, dict[str, Any]]] = (
        ("vehicle", {"set": {"plate": "AB", "odometer": {"value": 82_400, "unit": "mi"}, "surface": ["wet"],
                             "refusals": [{"what": "scraping", "why": "no"}]}, "by": "Sam"}),
        ("photo", {"file": "photos/p9.jpg", "sha256": "ab" * 32, "original": "a.jpg", "entries": ["e2.1"],
                   "taken": "2026-03-14T09:05:30+01:00", "confidence": 1.0, "because": ["x"],
                   "location": "none", "by": "Sam", "original_sha256": "ab" * 32}),
        ("revised", {"did": "amend", "by": "Sam", "why": "x", "changes": [
            {"do": "amend", "entry": "e2.1", "set": {"side": "right"}, "why": "bench", "ranges": {"size_mm": [1, 2]},
             "questions": [{"slot": "zone", "options": ["sill"]}], "doubts": ["x"], "absent": ["hole"]}]}),
        ("listened", {"utterance": "u2", "by": "Sam"}),
        ("clip-erased", {"utterance": "u3", "by": "Sam", "why": "x"}),
        ("left-out", {"lines": [3, 4], "why": "x"}),
    )  # fmt: skip
    return [logs.after(last, type_, **body) for type_, body in bodies]


def _used(lines: logs.Lines, grammar: Grammar) -> tuple[bool, str]:
    """Whether lines fit the contract; and what went wrong where they did and could not be used."""
    try:
        facts = tuple(_facts(lines))
        if any(map(misfit, facts)):
            return False, ""
        _use(facts, grammar)
    except LogFault:
        return False, ""
    except Exception as error:  # whatever it is, nobody raised it on purpose
        return True, f"{type(error).__name__}: {error}"[:100]
    return True, ""


def _facts(lines: Iterable[logs.Line]) -> Iterable[Fact]:
    for number, line in enumerate(lines, 1):
        raw = json.dumps({**line, "seq": number, "prev": "0" * 64}, separators=(",", ":"))
        yield decode(raw.encode(), number)


def _use(facts: Sequence[Fact], grammar: Grammar) -> None:
    """As the commands do: folded, exported, reviewed.

    Raises:
        LogFault: as they do.
        AssertionError: the document does not fit the contract.
    """
    then = as_then(Settings(), facts[0].body)
    inspection = fold(facts, grammar.zone_map, grammar.rules, then.rails)
    vehicle = vehicle_of(facts, inspection)
    document = log_document(facts, inspection, vehicle=vehicle, photos=photos_of(facts))
    assert not faults(json.loads(json_text(document)), "inspection"), faults(document, "inspection")
    reviewed = Reviewed(grammar, then.rails, facts)
    for finding in reviewed.inspection().findings:
        reviewed.revisions(finding.entry.id)
        if finding.entry.utterance in ("u2", "u3"):
            reviewed.utterance(finding.entry.id)
