"""``voicelog vehicle``: what a log knows of its vehicle, shown or noted afterwards."""

from __future__ import annotations

from functools import partial
from pathlib import Path
from typing import Any

import click

from voicelog.cli.flags import LOG, LOOKED_IN, settings_from, with_options
from voicelog.cli.paragraphs import say
from voicelog.cli.vehicle_flags import take_vehicle, vehicle_flags
from voicelog.tongue import worded

_AFTERWARDS = (
    click.option("--described", metavar="TEXT", help="What it is, in a few words."),
    click.option("--by", default="", metavar="NAME", help="Who notes it [the setting inspector, or the account's name]."),
    LOOKED_IN,
    click.option("--json", "as_json", is_flag=True, help="Print it as one JSON object."),
)  # fmt: skip


@click.command(no_args_is_help=True)
@LOG
@vehicle_flags
@partial(with_options, options=_AFTERWARDS)
def vehicle(log: str, by: str, into: Path | None, as_json: bool, **flags: Any) -> None:
    """Show what LOG, a folder or "last", knows of its vehicle; with flags, note it.

    \b
      voicelog vehicle last
      voicelog vehicle last --odometer "82 400 mi" --plate "AB 12 CDE"
      voicelog vehicle last --refused "scraping: owner says no" --surface wet
      voicelog vehicle last --surface none --plate ""       take it back

    One command writes one line with name and time. The later line holds, and nothing is overwritten:
    where two sources tell another number, both are shown.
    """
    from voicelog.cli.logs import tell_exported
    from voicelog.domain.vehicle import VEHICLE
    from voicelog.findings.vehicle import vehicle_of
    from voicelog.runtime.going_on import log_meant
    from voicelog.runtime.review import Review

    told = take_vehicle(flags)
    settings = settings_from({"into": into})
    with Review.open(log_meant(log, settings.into), settings, by=by, trial=not told) as review:
        if told:
            review.note(VEHICLE, {"set": told, "by": review.by})
        _show(vehicle_of(review.facts, review.inspection()), as_json=as_json)
    tell_exported(review)


def _show(known: Any, *, as_json: bool) -> None:
    from voicelog.cli.vehicle_lines import vehicle_lines
    from voicelog.export.json_file import json_text
    from voicelog.export.vehicle import vehicle_to_json

    if as_json:
        click.echo(json_text(vehicle_to_json(known)), nl=False)
        return
    lines = list(vehicle_lines(known))
    for line in lines or [worded("Nothing is known of the vehicle.")]:
        say(line)
