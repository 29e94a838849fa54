"""A log made into a report: everything it is made of is gathered here, and nothing is written."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path

from voicelog.config.settings import Settings
from voicelog.domain.advice import Pointer
from voicelog.domain.comparison import Comparison
from voicelog.domain.photo import Photo, photos_of
from voicelog.domain.report import Report
from voicelog.errors import InputFault
from voicelog.findings.pointers import Pointing
from voicelog.findings.vehicle import vehicle_of
from voicelog.journal.naming import PHOTOS
from voicelog.journal.own_files import own_file, sha256_of
from voicelog.journal.reading import Walk
from voicelog.report import Material, compose
from voicelog.runtime.advice import advice_of
from voicelog.runtime.going_on import as_then, rails_then
from voicelog.runtime.history_words import steps
from voicelog.runtime.logs import Opened, open_log
from voicelog.runtime.reviewed import Reviewed


def report_of(
    folder: Path,
    *,
    since: Path | None = None,
    regions: tuple[str, ...] = (),
    now: datetime | None = None,
) -> Report:
    """The report of a log, as it stands now.

    Args:
        folder: the log's.
        since: an earlier log of the same vehicle, to tell what changed.
        regions: short names of those whose public rules are pointed at.
        now: when the report is made, with its zone; the clock's time where None.

    Raises:
        InputFault: one of the logs is not there.
        LogFault: one of them is damaged or newer.
        GrammarFault: its rules cannot be used.
    """
    opened = open_log(folder)
    comparison = None if since is None else _compared(since, folder)
    made_at = (now or datetime.now(UTC)).isoformat()
    return compose(_material(opened, folder, comparison, regions, made_at))


def _compared(older: Path, newer: Path) -> Comparison:
    from voicelog.runtime.comparing import compared

    return compared(older, newer)


def _material(
    opened: Opened,
    folder: Path,
    comparison: Comparison | None,
    regions: tuple[str, ...],
    made_at: str,
) -> Material:
    facts, inspection = opened.log.facts, opened.inspection
    zone_map, rules = opened.grammar.zone_map, opened.grammar.rules
    rails = rails_then(facts[0].body)
    return Material(
        facts=facts,
        inspection=inspection,
        zone_map=zone_map,
        rules=rules,
        rails=rails,
        driver_side=as_then(Settings(), facts[0].body).speech.driver_side,
        vehicle=vehicle_of(facts, inspection),
        photos=photos_of(facts),
        jpeg=_Pictures(folder).jpeg,
        comparison=comparison,
        advice=advice_of(inspection, opened.grammar, rails),
        pointers=_pointers(opened, regions),
        histories=_histories(opened),
        last_sha256=_seal(folder),
        made_at=made_at,
    )


_LONGEST_PX = 1100
"""Of a picture in a report: enough for half a printed page; the log keeps the whole one."""


@dataclass(frozen=True, slots=True)
class _Pictures:
    """The pictures of a log, read from its folder.

    Args:
        folder: the log's.
    """

    folder: Path

    def jpeg(self, photo: Photo) -> bytes:
        """A picture in the size of a page; nothing where it is gone, damaged or not the one that
        was matched.

        A log comes from outside: a name in it must not reach a file beside it.
        """
        from voicelog.export.pictures import report_jpeg

        path = own_file(self.folder, photo.file, PHOTOS)
        if path is None or _hash_of(path) != photo.sha256:
            return b""
        try:
            return report_jpeg(path, _LONGEST_PX)
        except InputFault:
            return b""


def _hash_of(path: Path) -> str:
    """The file's SHA-256; empty where it cannot be read."""
    try:
        return sha256_of(path)
    except OSError:
        return ""


def _pointers(opened: Opened, regions: tuple[str, ...]) -> Mapping[str, tuple[Pointer, ...]]:
    """The public rules of the regions that somebody asked for, by entry."""
    if not regions:
        return {}
    from voicelog.config.pointers import with_pointers

    rules = with_pointers(opened.grammar.rules, regions)
    pointing = Pointing(opened.grammar.zone_map, rules, regions)
    return {f.entry.id: pointing.at(f) for f in opened.inspection.live}


def _histories(opened: Opened) -> Mapping[str, tuple[str, ...]]:
    """What happened to each entry after it was said, as sentences; the untouched are left out."""
    facts, grammar = opened.log.facts, opened.grammar
    reviewed = Reviewed(grammar, rails_then(facts[0].body), facts)
    told = {
        finding.entry.id: steps(finding, reviewed.revisions(finding.entry.id), grammar.zone_map)
        for finding in opened.inspection.live
    }
    return {
        entry: tuple(step.in_words() for step in taken) for entry, taken in told.items() if taken
    }


def _seal(folder: Path) -> str:
    """The hash of the log's last line as it lies on the disk; nothing in the log itself holds it."""
    walk = Walk(folder)
    for _ in walk:
        pass
    return walk.chain.prev
