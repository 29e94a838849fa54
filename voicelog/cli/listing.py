"""``voicelog list``: the inspections in a folder, with verdict and open points."""

from __future__ import annotations

import sys
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path

import click

from voicelog.cli.flags import settings_from
from voicelog.export.json_file import json_text
from voicelog.tongue import worded

PATIENCE_S = 0.7
"""So long nothing is said of how far it is: most folders are listed by then."""


@click.command("list")
@click.argument("folder", required=False, type=click.Path(path_type=Path))
@click.option(
    "--into",
    type=click.Path(path_type=Path),
    metavar="PATH",
    help="The folder to list, where FOLDER is not given.",
)
@click.option(
    "--open", "only_open", is_flag=True, help="Only those with open points, and damaged ones."
)
@click.option("--json", "as_json", is_flag=True, help="Print them as one JSON object.")
def list_inspections(
    folder: Path | None, into: Path | None, only_open: bool, as_json: bool
) -> None:
    """List the inspections in FOLDER and below, the newest first [the setting into].

    \b
      voicelog list
      voicelog list ~/inspections --open
      voicelog list --json

    A damaged one is named with the reason, and the others are listed all the same; that alone is no
    failure of this command: voicelog verify checks a log. It leaves with 3 where there is no folder.
    """
    from voicelog.cli.listing_lines import listed_json, listing_lines
    from voicelog.cli.show import console
    from voicelog.runtime.inspections import inspections

    settings = settings_from({"into": into})
    parent = folder or settings.into
    with _progress() as done:
        found = inspections(parent, settings, done=done)
    shown = [one for one in found if not only_open or one.open_points or one.damaged]
    if as_json:
        click.echo(json_text(listed_json(shown, parent)), nl=False)
        return
    out = console()
    for line in listing_lines(shown, parent, width=out.width, all_of=len(found)):
        out.print(line)


@contextmanager
def _progress() -> Iterator[Callable[[int, int], None]]:
    """A bar on standard error once it takes long, while somebody looks at a terminal."""
    if not (sys.stderr.isatty() and sys.stdout.isatty()):
        yield lambda _number, _all: None
        return
    from rich.console import Console
    from rich.progress import Progress

    with Progress(console=Console(stderr=True), transient=True, auto_refresh=False) as bar:
        whole, begun = bar.add_task(worded("reading logs"), visible=False), time.monotonic()

        def done(number: int, count: int) -> None:
            if time.monotonic() - begun > PATIENCE_S:
                bar.update(whole, completed=number, total=count, visible=True, refresh=True)

        yield done
