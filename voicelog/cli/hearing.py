"""``voicelog hear`` and ``voicelog demo``: recordings in, graded findings out."""

from __future__ import annotations

import sys
from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import click
from rich.console import Console
from rich.progress import BarColumn, Progress, TaskID, TextColumn, TimeRemainingColumn

from voicelog.cli.flags import ear_flags, settings_from, shared
from voicelog.cli.paragraphs import say
from voicelog.cli.show import console, show_end, show_event
from voicelog.cli.vehicle_flags import take_vehicle, vehicle_flags
from voicelog.config.settings import Settings
from voicelog.domain.inert import inert
from voicelog.errors import InputFault
from voicelog.export.answer import answer
from voicelog.export.json_file import json_text
from voicelog.runtime.actions import resume_phrase
from voicelog.runtime.launching import bundled
from voicelog.runtime.listening import Progress as Follow
from voicelog.runtime.listening import hear_files
from voicelog.runtime.logs import DOCUMENT, export_json
from voicelog.runtime.opening import open_listening, parse_moment, readable
from voicelog.runtime.session import Session
from voicelog.runtime.vehicles import vehicle_in
from voicelog.tongue import worded


@click.command()
@click.argument("audio", nargs=-1, required=True, type=click.Path(path_type=Path, allow_dash=True))
@shared
@ear_flags
@vehicle_flags
@click.option(
    "--recorded-at",
    metavar="TIME",
    help="When the recording began, like 2026-03-14T09:05:30+01:00.",
)
def hear(
    audio: tuple[Path, ...], as_json: bool, subject: str, recorded_at: str | None, **flags: Any
) -> None:
    """Hear recordings (WAV, FLAC, OGG of any rate; "-" for raw 16 kHz sound) as one inspection.

    \b
      voicelog hear front.wav rear.wav --subject "pickup 12" --into logs
      arecord -f S16_LE -r 16000 -c 1 | voicelog hear -
    """
    readable(audio)
    vehicle = take_vehicle(flags)
    settings = settings_from(flags)
    moment = parse_moment(recorded_at) if recorded_at else None
    with open_listening(
        settings, subject=subject, recorded_at=moment, vehicle=vehicle, told=_tell
    ) as session:
        _run(session, audio, settings, as_json=as_json)


@click.command()
@shared
@ear_flags
@vehicle_flags
def demo(as_json: bool, subject: str, **flags: Any) -> None:
    """Hear the bundled recordings of one inspection: no microphone, no download.

    A ladder-frame utility pickup, front to back, in several synthetic voices, partly in shop noise.
    """
    vehicle = take_vehicle(flags)
    settings, subject = settings_from(flags), subject or "demo pickup"
    with open_listening(settings, subject=subject, vehicle=vehicle, told=_tell) as session:
        _run(session, bundled(), settings, as_json=as_json)


def _tell(text: str) -> None:
    say(f"voicelog: {inert(text)}", err=True)


def _run(session: Session, files: Iterable[Path], settings: Settings, *, as_json: bool) -> None:
    files = list(files)
    out, resume = console(), resume_phrase(session.grammar.vocabulary)
    if not as_json:
        _greet(session, out)
    broken: InputFault | None = None
    try:
        with _following(files) as follow:
            for event in hear_files(session, files, settings, progress=follow):
                if not as_json:
                    show_event(out, event, session.grammar.zone_map, resume=resume)
    except InputFault as fault:  # what was heard before it still gets its verdict and its export
        broken = fault
    session.close("end of sound" if broken is None else f"input fault: {broken.message.english}")
    _hand_over(session, out, as_json=as_json)
    if broken is not None:
        raise broken


def _hand_over(session: Session, out: Console, *, as_json: bool) -> None:
    """The verdict on the screen and the export beside the log, or the one JSON object."""
    log = session.journal.folder if session.journal is not None else None
    if as_json:
        click.echo(json_text(answer(session.inspection())), nl=False)
        return
    export = export_json(log, log / DOCUMENT) if log is not None else None
    inspection = session.inspection()
    vehicle = vehicle_in(log, inspection) if log is not None else None
    show_end(out, inspection, session.grammar.zone_map, log=log, export=export, vehicle=vehicle)


def _greet(session: Session, out: Console) -> None:
    ear = session.ear
    named = f"{ear.engine} ({ear.model})" if ear is not None else worded("typed")
    out.print(
        worded(
            "Ear: {named}. Sides are meant as if sitting in the vehicle, facing forward.",
            named=named,
        )
    )
    for caution in session.grammar.rules.cautions:
        out.print(f"  * {caution}", markup=False)
    out.print()


@contextmanager
def _following(files: list[Path]) -> Iterator[Any]:
    """A progress bar on standard error while somebody looks at a terminal."""
    if not (sys.stderr.isatty() and sys.stdout.isatty()):
        yield lambda _path: None
        return
    bar = Progress(
        TextColumn("{task.description}"), BarColumn(), TextColumn("{task.percentage:>3.0f} %"),
        TimeRemainingColumn(), console=Console(stderr=True), transient=True,
    )  # fmt: skip
    with bar:
        whole = bar.add_task(worded("hearing"), total=len(files))
        yield lambda path: _follow(bar, whole, files.index(path))


def _follow(bar: Progress, whole: TaskID, index: int) -> Follow:
    def follow(done_s: float, total_s: float | None) -> None:
        share = done_s / total_s if total_s else 0.0
        bar.update(whole, completed=index + min(share, 1.0))

    return follow
