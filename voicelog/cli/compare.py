"""``voicelog compare``: what changed from one inspection to the next."""

from __future__ import annotations

from pathlib import Path

import click

from voicelog.cli.completion import logs_begun
from voicelog.cli.flags import LOOKED_IN


@click.command(no_args_is_help=True)
@click.argument("old", shell_complete=logs_begun)
@click.argument("new", shell_complete=logs_begun)
@LOOKED_IN
@click.option("--json", "as_json", is_flag=True, help="Print it as one JSON object.")
def compare(old: str, new: str, into: Path | None, as_json: bool) -> None:
    """Compare two logs of one vehicle: OLD, and NEW; each a folder, or "last" for the newest.

    \b
      voicelog compare logs/20260314T080530Z-pickup last
      voicelog compare OLD NEW --json | less

    It tells what is worse, what appeared, grew, was repaired, and above all what nobody looked at again:
    that stays open. Where thickness was read twice at one place it works out how much is lost a year,
    as far as the gauge can tell. Nothing is written.
    """
    from voicelog.cli.logs import meant
    from voicelog.export.comparison import comparison_document
    from voicelog.export.json_file import json_text
    from voicelog.runtime.comparing import compared

    comparison = compared(meant(old, into), meant(new, into))
    if as_json:
        click.echo(json_text(comparison_document(comparison)), nl=False)
        return
    from voicelog.cli.compare_lines import comparison_lines
    from voicelog.cli.paragraphs import line_width

    for line in comparison_lines(comparison, line_width()):
        click.echo(line)
