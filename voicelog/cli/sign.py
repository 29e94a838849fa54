"""``voicelog sign``: a name under a log as it stands."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from voicelog.cli.amend import AT_THE_BENCH
from voicelog.cli.flags import LOG, settings_from, with_options
from voicelog.cli.open_json import open_json
from voicelog.cli.paragraphs import say
from voicelog.domain.inert import inert
from voicelog.domain.local_time import stamp, zone_of
from voicelog.export.json_file import json_text
from voicelog.tongue import worded

if TYPE_CHECKING:
    from datetime import timezone

    from voicelog.domain.revision import OpenPoint, Signature


@click.command(no_args_is_help=True)
@LOG
@partial(with_options, options=AT_THE_BENCH)
@click.option("--list", "only_list", is_flag=True, help="Only say what is open; sign nothing.")
@click.option("--json", "as_json", is_flag=True, help="Print it as one JSON object.")
def sign(log: str, why: str, by: str, into: Path | None, only_list: bool, as_json: bool) -> None:
    """Sign LOG as it stands: a folder, or "last" for the newest.

    \b
      voicelog sign last --list                     what is open still
      voicelog sign last --by Sam
      voicelog sign last --why "no borescope here"  with open points, kept with it

    What is changed later shows as changed after signing. A signature certifies nothing: it says who
    stood by these lines, and when.
    """
    from voicelog.cli.logs import tell_exported
    from voicelog.journal.reading import verify
    from voicelog.runtime.going_on import log_meant
    from voicelog.runtime.review import Review

    settings = settings_from({"into": into})
    folder = log_meant(log, settings.into)
    with Review.open(folder, settings, by=by, trial=only_list) as review:
        points = review.open_points()
        signs = not only_list and (not points or bool(why.strip()))
        if not as_json:
            _show_open(points)
        elif not signs:
            click.echo(json_text({"open": open_json(points)}), nl=False)
        if only_list:
            return
        signature = review.sign(why=why)
    tell_exported(review)
    report = verify(folder)
    if as_json:
        click.echo(json_text(_signed_json(signature, points, report.seal)), nl=False)
    else:
        _show_signed(signature, report.seal, zone_of(review.facts[0].body))
    for problem in report.problems:
        say(("  " + worded("PROBLEM: {problem}", problem=problem)), err=True)


def _show_open(points: Sequence[OpenPoint]) -> None:
    say(worded("Open: {count}", count=len(points) or worded("nothing")))
    for point in points:
        say(f"  - {inert(point.text)}")


def _show_signed(signature: Signature, seal: str, zone: timezone) -> None:
    at = stamp(signature.at, zone)
    say(worded("Signed by {by} on {at}", by=inert(signature.by), at=at))
    say("  " + worded("Lines:    {lines}", lines=signature.lines))
    say("  " + worded("SHA-256:  {sha256}", sha256=signature.sha256))
    say("  " + worded("Seal:     {seal}", seal=seal))
    say(
        worded(
            "Note the seal down elsewhere: voicelog verify prints it again while nothing up "
            "to the signature is changed."
        )
    )
    say(worded("A signature shows what was changed after it. It certifies nothing."))


def _signed_json(signature: Signature, points: Sequence[OpenPoint], seal: str) -> dict[str, Any]:
    return {
        "by": inert(signature.by), "at": signature.at, "line": signature.seq,
        "lines": signature.lines, "sha256": signature.sha256, "seal": seal,
        "open": open_json(points), "why": inert(signature.why),
    }  # fmt: skip
