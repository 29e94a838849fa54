"""``voicelog manual``: one manual page of all commands, made from the commands themselves.

The form is that of man(7): https://man7.org/linux/man-pages/man7/man.7.html. One page, so that one file is all there is to
install, and nothing in it can say otherwise than ``--help``.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from inspect import cleandoc
from pathlib import Path

import click

from voicelog import __version__
from voicelog.cli.paragraphs import say
from voicelog.cli.topics import topics
from voicelog.domain.inert import inert
from voicelog.export.json_file import write_bytes

_MARK = "\b"
"""click's mark in front of lines that stay as they are."""
_FILES = (
    ("journal.jsonl", "In each log's folder: one fact a line, only ever appended."),
    ("settings.toml", "Your settings; voicelog doctor says where it is looked for."),
)
_ENVIRONMENT = (
    ("VOICELOG_*", "Any setting, such as VOICELOG_RAILS=boxed."),
    ("NO_COLOR", "Turns colours off, whatever it holds."),
    ("COLUMNS", "How wide lines may be."),
)


@click.command()
@click.option(
    "-o", "--output", type=click.Path(path_type=Path), metavar="FILE",
    help="File to write; standard output without it.",
)  # fmt: skip
@click.pass_context
def manual(ctx: click.Context, output: Path | None) -> None:
    """Write the manual page of all commands, as man shows it.

    \b
      voicelog manual | man -l -                 look at it
      voicelog manual -o ~/.local/share/man/man1/voicelog.1     then: man voicelog

    The folder has to be there. The guide is another thing: voicelog help.
    """
    page = "\n".join(page_lines(ctx.find_root())) + "\n"
    if output is None:
        click.echo(page, nl=False)
        return
    write_bytes(page.encode(), output)
    say(f"Wrote {inert(str(output))}")


def page_lines(root: click.Context) -> Iterator[str]:
    """The page, line by line.

    Args:
        root: of the program itself.
    """
    yield f'.TH VOICELOG 1 "" "voicelog {__version__}" "User commands"'
    yield from (".SH NAME", r"voicelog \- talk through a frame inspection; get graded findings")
    yield from (
        ".SH SYNOPSIS",
        r"\fBvoicelog\fR \fICOMMAND\fR [\fIOPTIONS\fR] \.\.\.".replace(r"\.", "."),
    )
    yield ".SH DESCRIPTION"
    yield from _prose(root.command)
    yield from (".SH COMMANDS", *_commands(root))
    yield from (".SH GUIDE", r"\fBvoicelog help\fR \fITOPIC\fR shows one of:")
    yield from _terms((topic.name, topic.does) for topic in topics().values())
    yield from (".SH ENVIRONMENT", *_terms(_ENVIRONMENT))
    yield from (".SH FILES", *_terms(_FILES))
    yield from (
        ".SH EXIT STATUS",
        "0 where the work was done, whatever was found. The README lists",
    )
    yield "the others; every error says the next step to take."


def _commands(context: click.Context) -> Iterator[str]:
    """Every command below one, with its options."""
    group = context.command
    assert isinstance(group, click.Group), "only groups have commands"  # noqa: S101
    for name in group.list_commands(context):
        command = group.get_command(context, name)
        if command is None or command.hidden:
            continue
        inner = click.Context(command, info_name=name, parent=context)
        if isinstance(command, click.Group):
            yield from _commands(inner)
            continue
        pieces = " ".join(command.collect_usage_pieces(inner))
        yield f".SS {_plain(inner.command_path)} {_plain(pieces)}"
        yield from _prose(command)
        options = (one for one in command.get_params(inner) if isinstance(one, click.Option))
        records = (option.get_help_record(inner) for option in options)
        yield from _terms(record for record in records if record is not None)


def _prose(command: click.Command) -> Iterator[str]:
    """What a command says of itself: paragraphs, and lines that stay as they are."""
    for part in re.split(r"\n\s*\n", cleandoc(command.help or "")):
        yield ".PP"
        if part.startswith(_MARK):
            kept = part.removeprefix(_MARK).strip("\n").splitlines()
            yield from (".nf", *(_plain(line) for line in kept), ".fi")
        else:
            yield _plain(" ".join(part.split()))


def _terms(pairs: Iterator[tuple[str, str]] | tuple[tuple[str, str], ...]) -> Iterator[str]:
    """Names, each with what it means indented below it."""
    for name, means in pairs:
        yield from (".TP", rf"\fB{_plain(name)}\fR", _plain(means))


def _plain(text: str) -> str:
    """Text that roff takes for text: its own signs, and a dot or quote that begins a line, are shown."""
    shown = text.replace("\\", r"\e").replace("-", r"\-")
    return rf"\&{shown}" if shown.startswith((".", "'")) else shown
