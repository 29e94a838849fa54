"""``voicelog export`` and ``voicelog verify``: logs that are there already."""

from __future__ import annotations

import sys
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

import click

from voicelog.cli.flags import LOOKED_IN, settings_from, with_options
from voicelog.export.json_file import json_text
from voicelog.runtime.going_on import LAST, log_meant
from voicelog.runtime.logs import document_of, export_json, open_log

if TYPE_CHECKING:
    from voicelog.runtime.review import Review

_LOG = (click.argument("log"), LOOKED_IN)


@click.command()
@partial(with_options, options=_LOG)
@click.option(
    "--to", "form", type=click.Choice(["json"]), default="json", help="Which form to write."
)
@click.option(
    "-o",
    "--output",
    type=click.Path(path_type=Path),
    help="File to write; standard output without it.",
)
def export(log: str, into: Path | None, form: str, output: Path | None) -> None:  # noqa: ARG001 - one form so far
    """Write LOG, a folder or "last" for the newest, for other programs.

    \b
      voicelog export last -o pickup.json
      voicelog export logs/20260314T080530Z-pickup --to json | less

    shared/CONTRACT.md says what is in it.
    """
    folder = _meant(log, into)
    if output is None:
        click.echo(json_text(document_of(open_log(folder))), nl=False)
    else:
        click.echo(f"Wrote {export_json(folder, output)}")


@click.command()
@partial(with_options, options=_LOG)
def verify(log: str, into: Path | None) -> None:
    """Check LOG, a folder or "last" for the newest: is it whole, who signed it, what changed since.

    It checks the order of lines, their chain of hashes, clips, signatures, and the log's own copy of
    the grammar.
    """
    from voicelog.journal.reading import verify as check

    report = check(_meant(log, into))
    click.echo(f"{report.lines} lines, {report.clips} clips")
    for notice in report.notices:
        click.echo(f"  note: {notice}")
    if report.seal:
        click.echo(f"  seal: {report.seal}")
    for problem in report.problems:
        click.echo(f"  PROBLEM: {problem}", err=True)
    if not report.ok:
        sys.exit(5)
    click.echo("The log is whole: nothing was lost or changed since it was written.")


def _meant(log: str, into: Path | None) -> Path:
    """The log's folder; settings are read only where they say where the newest lies."""
    if log != LAST:
        return Path(log)
    return log_meant(log, settings_from({"into": into}).into)


def tell_exported(review: Review) -> None:
    """What became of the document beside a log that was changed, once the log is closed."""
    if review.exported:
        click.echo(review.exported, err=True)
