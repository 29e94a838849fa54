"""``voicelog read``: text in, graded findings out."""

from __future__ import annotations

import sys
from collections.abc import Iterator
from time import monotonic
from typing import Any

import click

from voicelog.cli.flags import settings_from, shared
from voicelog.cli.vehicle_flags import take_vehicle, vehicle_flags
from voicelog.export.answer import answer
from voicelog.export.json_file import json_text
from voicelog.runtime.opening import open_reading


@click.command()
@click.argument("text", nargs=-1, required=True)
@shared
@click.option(
    "--subject", default="", metavar="TEXT", help="What is inspected; named in the log's folder."
)
@vehicle_flags
def read(text: tuple[str, ...], as_json: bool, subject: str, **flags: Any) -> None:
    """Read TEXT as it would be spoken; each argument, or line of standard input with "-", is one utterance.

    \b
      voicelog read "left front rail, surface rust" "scraper went through it"
      voicelog read - --json < notes.txt

    No log is kept unless --into says where.
    """
    vehicle = take_vehicle(flags)
    settings, keep = settings_from(flags), flags["into"] is not None
    begun = monotonic()
    with open_reading(settings, keep=keep, subject=subject, vehicle=vehicle) as session:
        out = None
        if not as_json:
            from voicelog.cli.show import console, show_end, show_event
            from voicelog.runtime.actions import resume_phrase

            out = console()
            resume = resume_phrase(session.grammar.vocabulary)
        for utterance in _utterances(text):
            event = session.read(utterance, at_s=monotonic() - begun)
            if out is not None:
                show_event(out, event, session.grammar.zone_map, resume=resume)
        session.close("end of text")
        if out is None:
            click.echo(json_text(answer(session.inspection())), nl=False)
            return
        from voicelog.runtime.vehicles import vehicle_in, vehicle_without_log

        log, inspection = session.folder, session.inspection()
        told = (
            vehicle_without_log(vehicle, subject, inspection)
            if log is None
            else vehicle_in(log, inspection)
        )
        show_end(out, inspection, session.grammar.zone_map, log=log, export=None, vehicle=told)


def _utterances(text: tuple[str, ...]) -> Iterator[str]:
    for argument in text:
        if argument == "-":
            sys.stdin.reconfigure(errors="replace")  # type: ignore[union-attr]
            yield from (line.strip() for line in sys.stdin if line.strip())
        else:
            yield argument
