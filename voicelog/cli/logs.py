"""``voicelog export`` and ``voicelog verify``: logs that are there already."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import TYPE_CHECKING

import click

from voicelog.export.json_file import json_text
from voicelog.runtime.logs import document_of, export_json, open_log

if TYPE_CHECKING:
    from voicelog.runtime.review import Review

_LOG = click.argument("log", type=click.Path(path_type=Path))


@click.command()
@_LOG
@click.option(
    "--to", "form", type=click.Choice(["json"]), default="json", help="Which form to write."
)
@click.option(
    "-o",
    "--output",
    type=click.Path(path_type=Path),
    help="File to write; standard output without it.",
)
def export(log: Path, form: str, output: Path | None) -> None:  # noqa: ARG001 - one form so far
    """Write LOG for other programs, by the contract in shared/CONTRACT.md.

    \b
      voicelog export logs/20260314T080530Z-pickup --to json -o pickup.json
    """
    if output is None:
        click.echo(json_text(document_of(open_log(log))), nl=False)
    else:
        click.echo(f"Wrote {export_json(log, output)}")


@click.command()
@_LOG
def verify(log: Path) -> None:
    """Check LOG: order, the chain of hashes, clips, and its own copy of the grammar."""
    from voicelog.journal.reading import verify as check

    report = check(log)
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


def tell_exported(review: Review) -> None:
    """What became of the document beside a log that was changed, once the log is closed."""
    if review.exported:
        click.echo(review.exported, err=True)
