"""``voicelog relisten``: a log heard again; proposes differences and applies none."""

from __future__ import annotations

import sys
from dataclasses import replace
from functools import partial
from typing import Any

import click

from voicelog.cli.flags import GRAMMAR, LOG, LOOKED_IN, MODEL, WORDS, settings_from
from voicelog.cli.progress import counting
from voicelog.cli.proposals import as_json_object, show_relistened
from voicelog.config.settings import Settings
from voicelog.domain.choices import HEARING
from voicelog.errors import UsageFault
from voicelog.export.json_file import json_text
from voicelog.runtime.going_on import log_meant
from voicelog.runtime.opening import open_the_ear
from voicelog.runtime.relisten import OpenEar
from voicelog.runtime.relisten import relisten as listen_again
from voicelog.tongue import worded


@click.command()
@LOG
@click.option(
    "--ear",
    type=click.Choice(HEARING[1:]),
    help="Which recogniser hears the clips [second].",
)
@click.option(
    "--words-only",
    is_flag=True,
    help="Hear nothing: read the words that were kept with the vocabulary in force now.",
)
@click.option("--doubtful", is_flag=True, help="Only what doubtful entries were said in.")
@click.option(
    "--entry",
    "entries",
    multiple=True,
    metavar="ID",
    help="Only what this entry was said in; may be repeated.",
)
@click.option(
    "--joint/--alone",
    default=True,
    help="Read the other ear's words beside those that were kept, or alone [--joint].",
)
@WORDS
@GRAMMAR
@MODEL
@LOOKED_IN
@click.option("--json", "as_json", is_flag=True, help="Print the proposals as one JSON object.")
def relisten(
    log: str,
    ear: str | None,
    words_only: bool,
    doubtful: bool,
    entries: tuple[str, ...],
    joint: bool,
    as_json: bool,
    **flags: Any,
) -> None:
    """Hear the clips of LOG again, a folder or "last", and propose what would be different.

    \b
      voicelog relisten last                 with the second ear
      voicelog relisten last --doubtful      only what was doubtful
      voicelog relisten last --words-only    with what was learned since

    The second ear needs: pip install 'voicelog[second-ear]'. The log is only read. Every proposal comes with the command that takes it over.
    """  # fmt: skip
    if words_only and ear is not None:
        raise UsageFault(
            worded("--words-only hears nothing, so it takes no --ear"),
            worded("Give one of the two"),
        )
    settings = settings_from(flags)
    folder = log_meant(log, settings.into)
    with counting(worded("listening again"), shown=not as_json and sys.stdout.isatty()) as follow:
        told = listen_again(
            folder, settings, entries=entries, doubtful_only=doubtful, joint=joint,
            ear=None if words_only else _opener(ear or "second", settings), progress=follow,
        )  # fmt: skip
    if as_json:
        click.echo(json_text(as_json_object(told, folder)), nl=False)
    else:
        show_relistened(told, folder)


def _opener(name: str, settings: Settings) -> OpenEar:
    """Opens it as the settings have it, so that it hears as it does live."""
    return partial(open_the_ear, replace(settings, ear=name))
