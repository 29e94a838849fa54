"""Flags that mean the same in every command, and the settings they make."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Any, TypeVar

import click

from voicelog.cli.completion import logs_begun
from voicelog.config.settings import Settings, load_settings
from voicelog.domain.choices import HEARING, SECOND_EARS
from voicelog.domain.grade import REGIONS as KNOWN
from voicelog.domain.zone import Rails

Command = TypeVar("Command", bound=Callable[..., Any])

MAP = click.option(
    "--map", "map", metavar="NAME", help="Zone map: a name or a file [ladder-frame]."
)
GRAMMAR = click.option(
    "--grammar",
    metavar="NAME",
    help="Another language: a shipped one (de), or a grammar folder of your own.",
)
LOOKED_IN = click.option(
    "--into", type=click.Path(path_type=Path), help='The folder in which "last" is looked for.'
)
LOG = click.argument("log", shell_complete=logs_begun)
"""A log: its folder, or "last"."""
WORDS = click.option(
    "--words", "overlays", multiple=True, type=click.Path(path_type=Path),
    help="Your own TOML words, layered over the shipped ones; may be repeated.",
)  # fmt: skip
_EAR = click.option(
    "--ear", type=click.Choice(HEARING),
    help="Which recogniser hears [auto: vosk if it has a model].",
)  # fmt: skip
REGIONS = click.option(
    "--region", "regions", multiple=True, metavar="NAME",
    help=f"Point at this region's public rules too ({', '.join(KNOWN)}); may be repeated.",
)  # fmt: skip
MODEL = click.option("--model", type=click.Path(path_type=Path), help="Folder of a Vosk model.")

_SHARED = (
    MAP,
    click.option("--rails", type=click.Choice([str(rails) for rails in Rails]), help="How the rails are made."),
    click.option("--driver-side", type=click.Choice(["left", "right"]), help="Where the driver sits."),
    click.option("--nearside", type=click.Choice(["left", "right"]), help="The side next to the kerb [left]."),
    click.option("--mil", type=click.Choice(["millimetre", "thou"]), help='What "mil" stands for [millimetre].'),
    click.option("--into", type=click.Path(path_type=Path), help="Folder in which the log's folder is made."),
    GRAMMAR,
    WORDS,
    click.option("--json", "as_json", is_flag=True, help="Print entries and verdict as one JSON object."),
)  # fmt: skip

_VOCABULARY = (MAP, GRAMMAR, WORDS, _EAR, MODEL)

_HEARD_WITH = (
    _EAR,
    MODEL,
    click.option("--second-ear", type=click.Choice(SECOND_EARS),
                 help="Hear what was unsure with a second recogniser too [auto: if installed]."),
    click.option("--bias", type=float,
                 help="How strongly the built-in ear leans to the vocabulary [0.4]."),
)  # fmt: skip

_EARS = (
    *_HEARD_WITH,
    click.option("--subject", default="", metavar="TEXT",
                 help="What is inspected; named in the log's folder."),
)  # fmt: skip


def shared(command: Command) -> Command:
    """The flags of every command that makes entries."""
    return with_options(command, _SHARED)


def ear_flags(command: Command) -> Command:
    """The flags of every command that hears."""
    return with_options(command, _EARS)


def heard_with(command: Command) -> Command:
    """The flags of every command that hears and keeps no log."""
    return with_options(command, _HEARD_WITH)


def vocabulary(command: Command) -> Command:
    """The flags of every command that only asks which words there are, and which ear hears them."""
    return with_options(command, _VOCABULARY)


def with_options(command: Command, options: Sequence[Callable[[Command], Command]]) -> Command:
    """The command with these options, told by ``--help`` in this order."""
    for option in reversed(options):
        command = option(command)
    return command


def settings_from(flags: dict[str, Any]) -> Settings:
    """The settings in force, the flags on top; empty lists count as not given."""
    given = {name: value for name, value in flags.items() if value not in (None, ())}
    return load_settings(given)
