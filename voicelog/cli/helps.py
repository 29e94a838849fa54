"""What ``--help`` says, in the language of whoever asks: texts stand where click wants them, in English."""

from __future__ import annotations

from collections.abc import Iterator
from copy import copy
from inspect import cleandoc

import click

from voicelog.tongue import catalogue, worded

AS_IT_STANDS = "\b"
"""Marks a paragraph, for click, as lines to type; they are the same in every language."""


def paragraphs(help_text: str | None) -> Iterator[str]:
    """The paragraphs of a help text, each on one line; click wraps them."""
    for paragraph in cleandoc(help_text or "").split("\n\n"):
        if paragraph.startswith(AS_IT_STANDS):
            yield paragraph
        elif paragraph.strip():
            yield " ".join(paragraph.split())


def in_language(command: click.Command) -> click.Command:
    """The command with its help in the language that was asked for; itself in English."""
    if catalogue() is None:
        return command
    told = copy(command)
    told.help = "\n\n".join(map(_told, paragraphs(command.help)))
    told.params = [_option(one) for one in command.params]
    if isinstance(told, click.Group):
        told.commands = {name: in_language(one) for name, one in told.commands.items()}
    return told


def _told(paragraph: str) -> str:
    return paragraph if paragraph.startswith(AS_IT_STANDS) else worded(paragraph)


def _option(parameter: click.Parameter) -> click.Parameter:
    if not (isinstance(parameter, click.Option) and parameter.help):
        return parameter
    told = copy(parameter)
    told.help = worded(parameter.help)
    return told
