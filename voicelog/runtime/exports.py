"""A log handed over in each of its forms: as text, as pages, as sound with its words."""

from __future__ import annotations

import os
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from voicelog.domain.entry import Finding
from voicelog.domain.inert import inert
from voicelog.domain.photo import photos_of
from voicelog.errors import UsageFault
from voicelog.export.csv_file import BOM, Line, findings_csv
from voicelog.export.json_file import json_text, write_bytes
from voicelog.export.vtt import webvtt
from voicelog.findings.places import place_in_words
from voicelog.findings.vehicle import vehicle_of
from voicelog.findings.work_list import work_list
from voicelog.journal.joined import SILENCE_S, Part, join_clips
from voicelog.journal.naming import CLIPS, GRAMMAR, JOURNAL, LOCK, PHOTOS
from voicelog.runtime.going_on import rails_then
from voicelog.runtime.logs import Opened, document_of, open_log
from voicelog.runtime.spoken import Spoken
from voicelog.tongue import worded

FORMS = ("json", "csv", "html", "pdf", "vtt")
"""What a log can be handed over as; also the endings of such files."""

REPORTS = ("html", "pdf")
"""Those that are a report for people."""

Progress = Callable[[int, int], None]
"""Told how many of how many clips are joined."""


@dataclass(frozen=True, slots=True)
class Wanted:
    """What is asked for.

    Args:
        form: one of :data:`FORMS`.
        since: an earlier log to compare with; for html and pdf.
        regions: whose public rules are pointed at; for html and pdf.
        paper: ``a4`` or ``letter``; for pdf.
    """

    form: str
    since: Path | None = None
    regions: tuple[str, ...] = ()
    paper: str = "a4"


def exported(folder: Path, wanted: Wanted) -> bytes:
    """A log in one of its forms, as the bytes of a file; a vtt's times are those of :meth:`Spoken.then`.

    Raises:
        InputFault, LogFault: the log cannot be read.
        UsageFault: there is no such form, or no such paper.
        VoicelogError: what the form needs is not installed.
    """
    if wanted.form in REPORTS:
        return _report(folder, wanted)
    match wanted.form:
        case "json":
            return json_text(document_of(open_log(folder))).encode()
        case "csv":
            return table_of(open_log(folder)).encode()
        case "vtt":
            opened = open_log(folder)
            return _cues(_spoken(opened), opened, _THEN, None).encode()
    raise UsageFault(
        worded("There is no form {form}", form=repr(wanted.form)),
        worded("Name one of {forms}.", forms=", ".join(FORMS)),
    )


def export_file(folder: Path, wanted: Wanted, target: Path) -> None:
    """Write a log in one of its forms into a file; one that is there is replaced in one step.

    Raises:
        InputFault, LogFault, UsageFault, VoicelogError: as for :func:`exported`.
        UsageFault: the file is a part of a log.
        StorageFault: the file cannot be written.
    """
    _refuse_parts_of_logs(target)
    mark = BOM.encode() if wanted.form == "csv" else b""
    write_bytes(mark + exported(folder, wanted), target)


def _refuse_parts_of_logs(target: Path) -> None:
    """Nothing that a log consists of is written over, and nothing lies among it.

    Raises:
        UsageFault: the file is one of those, or lies in one of their folders.
    """
    real = Path(os.path.realpath(target))
    for folder in real.parents:
        own = real.relative_to(folder).parts[0]
        if own in (JOURNAL, LOCK, CLIPS, PHOTOS, GRAMMAR) and os.access(folder / JOURNAL, os.F_OK):
            raise UsageFault(
                worded(
                    "{target} is, or lies in, a part of the log {folder}",
                    target=inert(str(target)),
                    folder=inert(folder.name),
                ),
                worded("Choose another name with -o."),
            )


def _report(folder: Path, wanted: Wanted) -> bytes:
    from voicelog.runtime.reports import report_of  # Pillow and jinja2 start slowly

    if wanted.form == "pdf":
        from voicelog.export.pdf import report_pdf, require

        require(wanted.paper)
        report = report_of(folder, since=wanted.since, regions=wanted.regions)
        return report_pdf(report, wanted.paper)
    from voicelog.export.html import report_html

    return report_html(report_of(folder, since=wanted.since, regions=wanted.regions)).encode()


def table_of(opened: Opened) -> str:
    """The entries as a table, see :func:`findings_csv`."""
    grammar, facts = opened.grammar, opened.log.facts
    rails = rails_then(facts[0].body)
    work = work_list(opened.inspection, grammar.zone_map, grammar.rules, rails)
    steps = {item.entry: item.steps for item in work if item.entry}
    photos = photos_of(facts)

    def line(found: Finding) -> Line:
        name = found.entry.id
        shots = tuple(photo.file for photo in photos if name in photo.entries)
        place = place_in_words(found.entry.slots, grammar.zone_map)
        return Line(found, place if "zone" in found.entry.slots else "", shots, steps.get(name, ()))

    return findings_csv(map(line, opened.inspection.findings))


@dataclass(frozen=True, slots=True)
class Subtitled:
    """What became of a hand-over as sound and words.

    Args:
        sound: the joined sound; None where there was none to join.
        missing: the clips that could not be read, as sentences.
    """

    sound: Path | None
    missing: tuple[str, ...]


def export_spoken(folder: Path, target: Path, progress: Progress = lambda *_: None) -> Subtitled:
    """Write what was said as WebVTT, and beside it, as FLAC under the same name, the sound to it.

    Both files are there as a whole or not at all, the sound first.

    Raises:
        InputFault, LogFault: the log cannot be read.
        UsageFault: the words would lie where the sound goes, or the file is a part of a log.
        StorageFault: a file cannot be written, or the sound would replace somebody's own recording.
    """
    if target.suffix.lower() == ".flac":
        raise UsageFault(
            worded("The sound goes into that file"), worded("Name the words with .vtt at the end.")
        )
    _refuse_parts_of_logs(target)
    opened = open_log(folder)
    spoken = _spoken(opened)
    clips, sound = spoken.clips(), target.with_suffix(".flac")
    parts = (
        join_clips(folder, clips, sound, lambda done: progress(done, len(clips))) if clips else ()
    )
    joined = sound if any(part.samples for part in parts) else None
    about = _JOINED.format(sound.name, SILENCE_S) if joined else "No sound was kept in this log."
    write_bytes(_cues(spoken, opened, about, parts).encode(), target)
    missing = tuple(f"{part.name}: {part.problem}" for part in parts if part.problem)
    return Subtitled(joined, missing)


_JOINED = "Times count in {}: the clips one after another, {:g} s of silence between them."
_THEN = (
    "Times are those of the inspection's own clock; for recordings that were heard they are the"
    " place in the recording."
)


def _spoken(opened: Opened) -> Spoken:
    return Spoken(opened, vehicle_of(opened.log.facts, opened.inspection).inspector)


def _cues(spoken: Spoken, opened: Opened, times: str, parts: tuple[Part, ...] | None) -> str:
    body = opened.log.facts[0].body
    named = f"voicelog: log {body.get('log_id', '')} {body.get('subject', '')}".strip()
    stands = "Below each sentence stands what it made or changed, as the log has it now."
    lies = spoken.then() if parts is None else parts
    return webvtt(spoken.blocks(lies, (named, times, stands)))
