"""``voicelog words``: the spoken vocabulary."""

from __future__ import annotations

from dataclasses import asdict
from typing import Any

import click

from voicelog.cli.clashes import clash_lines, known_lines
from voicelog.cli.flags import settings_from, vocabulary
from voicelog.export.json_file import json_text
from voicelog.runtime.clashes import LEAST
from voicelog.runtime.words import WordsReport, check_words


@click.group()
def words() -> None:
    """The spoken vocabulary: TOML files that a shop can change (see shared/GRAMMAR.md)."""


@words.command()
@vocabulary
@click.option(
    "--least",
    type=click.FloatRange(0.5, 1.0),
    default=LEAST,
    show_default=True,
    help="Likeness of sound from which two phrases are told.",
)
@click.option("--json", "as_json", is_flag=True, help="Print the report as one JSON object.")
def check(least: float, as_json: bool, **flags: Any) -> None:
    """Load every phrase, refuse any given twice, and list what sounds alike or cannot be heard.

    What sounds alike is no error: it is where to listen twice, and what to say otherwise.
    """
    report = check_words(settings_from(flags), least)
    if as_json:
        click.echo(json_text(asdict(report)), nl=False)
        return
    click.echo(
        f"{len(report.files)} files, {report.phrases} phrases, {report.words} words: all load, none twice."
    )
    click.echo(_heard(report))
    for line in (*clash_lines(report.clashes, report.least), *known_lines(report.known)):
        click.echo(line)


def _heard(report: WordsReport) -> str:
    """What the ear can make of the words."""
    if report.unheard is None:
        return f"Ear: {report.ear}. Install one to ask it about these words."
    if not report.unheard:
        return f"Ear: {report.ear}. No word is out of its reach."
    return (
        f"Ear: {report.ear}. It cannot hear: {', '.join(report.unheard)}\n"
        "Give those meanings another spoken form, or its nearest words as `misheard`."
    )
