"""Logs that are there already: opened, folded with their own grammar, handed over."""

from __future__ import annotations

import os
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from voicelog.config.cache import checked_folder
from voicelog.config.grammar import Grammar
from voicelog.domain.entry import Inspection
from voicelog.domain.photo import photos_of
from voicelog.domain.recovery import warning
from voicelog.errors import VoicelogError
from voicelog.export.document import log_document
from voicelog.export.json_file import write_json
from voicelog.findings.ledger import fold
from voicelog.findings.vehicle import vehicle_of
from voicelog.journal.grammar import kept_grammar, map_of
from voicelog.journal.own_files import is_own
from voicelog.journal.reading import Log
from voicelog.runtime.checked_log import checked_log
from voicelog.runtime.going_on import rails_then
from voicelog.tongue import worded

DOCUMENT = "inspection.json"
"""The exported document's name, where it lies beside its log."""


@dataclass(frozen=True, slots=True)
class Opened:
    """A log with the grammar it was made with.

    Args:
        log: its facts.
        grammar: its own copy of words, map and rules.
        inspection: the facts, folded.
    """

    log: Log
    grammar: Grammar
    inspection: Inspection


def open_log(folder: Path) -> Opened:
    """A log, folded by the rules it was made with; reading needs no lock.

    Args:
        folder: the log's, in which ``journal.jsonl`` lies.

    Raises:
        InputFault: there is no log.
        LogFault: it is damaged or newer.
    """
    log = checked_log(folder)
    opened = log.facts[0]
    own = kept_grammar(folder, opened)
    grammar = checked_folder(map_of(opened.body), own)
    inspection = fold(log.facts, grammar.zone_map, grammar.rules, rails_then(opened.body))
    return Opened(log, grammar, inspection)


def document_of(opened: Opened) -> dict[str, Any]:
    """The published document of a log.

    Args:
        opened: as :func:`open_log` gives it.

    Returns:
        Plain dictionaries, lists, texts and numbers, as ``inspection.schema.json`` in ``shared/schema``
        describes them; every number with its unit in the key's name (``size_mm``, ``at_s``).
    """
    from voicelog.runtime.advice import advice_of  # not needed to read a log

    facts, inspection, grammar = opened.log.facts, opened.inspection, opened.grammar
    return log_document(
        facts,
        inspection,
        zones=grammar.zone_map.zones.values(),
        cautions=(*filter(None, (warning(facts, inspection.findings),)), *grammar.rules.cautions),
        advice=advice_of(inspection, grammar, rails_then(facts[0].body)),
        vehicle=vehicle_of(facts, inspection),
        photos=photos_of(facts),
    )


def export_json(folder: Path, target: Path) -> Path:
    """Write a log's published document and return where it lies.

    Raises:
        InputFault, LogFault: the log cannot be read.
        StorageFault: the file cannot be written.
    """
    write_json(document_of(open_log(folder)), target)
    return target


def handed_over(log: Path | None) -> str:
    """The document for other programs, beside the log; the log is whole without it."""
    if log is None:
        return worded("Nothing was kept")
    document = log / DOCUMENT
    if os.path.lexists(document) and not is_own(document):
        return worded(
            "Not exported: {document} in the log's folder is a link, or no file", document=DOCUMENT
        )
    try:
        return worded("Exported to {path}", path=export_json(log, document))
    except VoicelogError as fault:
        return worded("Not exported: {fault}", fault=fault.told)


def handed_over_again(log: Path) -> str:
    """The same after a correction, where the document lies there already: it would tell of the log
    as it was. Empty where it never was.
    """
    return handed_over(log) if os.path.lexists(log / DOCUMENT) else ""
