"""``voicelog model``: which models are there, and fetching one when asked."""

from __future__ import annotations

import sys
from pathlib import Path

import click

from voicelog.cli.paragraphs import say
from voicelog.recognise.models import SMALL_ENGLISH, get_model, list_models
from voicelog.recognise.vosk_models import size_mb
from voicelog.tongue import worded


@click.group()
def model() -> None:
    """Models of the ears: what is installed, and the small English one for Vosk."""


@model.command("list")
def list_command() -> None:
    """Say which models are here and how to get the others. Asks nobody outside this machine."""
    for status in list_models():
        where = (
            worded("not here: {hint}", hint=status.hint)
            if status.folder is None
            else _where(status.folder)
        )
        say(
            worded(
                "{status}  (ear: {ear})  {where}", status=status.name, ear=status.ear, where=where
            )
        )


@model.command("get")
@click.argument("name", default=SMALL_ENGLISH)
def get_command(name: str) -> None:
    """Fetch NAME once, check it and keep it (the only command that uses the network)."""
    shown = sys.stderr.isatty()

    def progress(done: int, total: int | None) -> None:
        if shown:
            share = f"{100 * done / total:3.0f} %" if total else f"{done / 1e6:.1f} MB"
            click.echo(f"\r{name}: {share}", nl=False, err=True)

    folder = get_model(name, progress)
    say(
        worded("{name} is in {folder}; voicelog will use it from now on.", name=name, folder=folder)
    )


def _where(folder: Path) -> str:
    return worded("{folder}  ({size_mb} MB)", folder=folder, size_mb=size_mb(folder))
