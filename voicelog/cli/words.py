"""``voicelog words``: the spoken vocabulary."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import click

from voicelog.cli.flags import settings_from
from voicelog.runtime.words import check_words


@click.group()
def words() -> None:
    """The spoken vocabulary: TOML files that a shop can change (see shared/GRAMMAR.md)."""


@words.command()
@click.option("--map", "map", metavar="NAME", help="Zone map: a name or a file.")
@click.option(
    "--words",
    "overlays",
    multiple=True,
    type=click.Path(path_type=Path),
    help="Your own TOML words.",
)
@click.option("--ear", type=click.Choice(["auto", "built-in", "vosk"]), help="The ear to ask.")
@click.option("--model", type=click.Path(path_type=Path), help="Folder of a Vosk model.")
def check(**flags: Any) -> None:
    """Load every phrase, refuse any phrase given twice, and list words the ear cannot hear."""
    report = check_words(settings_from(flags))
    click.echo(
        f"{len(report.files)} files, {report.phrases} phrases, {report.words} words: all load, none twice."
    )
    if report.unheard is None:
        click.echo(f"Ear: {report.ear}. Install one to ask it about these words.")
    elif report.unheard:
        click.echo(f"Ear: {report.ear}. It cannot hear: {', '.join(report.unheard)}")
        click.echo("Give those meanings another spoken form, or its nearest words as `misheard`.")
    else:
        click.echo(f"Ear: {report.ear}. No word is out of its reach.")
