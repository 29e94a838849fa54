"""``voicelog help``: the guide in a terminal, and the help of every command."""

from __future__ import annotations

import shutil
import sys
from collections.abc import Iterator
from typing import TYPE_CHECKING

import click

from voicelog.cli.paragraphs import line_width, paragraph, say
from voicelog.cli.topics import Topic, for_terminal, topics
from voicelog.config.faults import did_you_mean
from voicelog.errors import UsageFault
from voicelog.tongue import worded

if TYPE_CHECKING:
    from click.shell_completion import CompletionItem


def _completions(_ctx: click.Context, _param: click.Parameter, begun: str) -> list[CompletionItem]:
    from click.shell_completion import CompletionItem

    return [CompletionItem(one.name, help=one.does) for one in topics().values()
            if one.name.startswith(begun)]  # fmt: skip


@click.command("help")
@click.argument("words", metavar="[TOPIC|COMMAND]", nargs=-1, shell_complete=_completions)
@click.pass_context
def show_help(ctx: click.Context, words: tuple[str, ...]) -> None:
    """Show a topic of the guide, or what a command does; without a name, list the topics.

    \b
      voicelog help                        which topics there are
      voicelog help first-inspection       your first inspection in ten minutes
      voicelog help glossary               what the words mean
      voicelog help export                 the same as voicelog export --help

    A topic longer than the terminal is shown page by page (space goes on, q leaves).
    """
    if not words:
        say("\n".join(_topic_lines()))
    elif len(words) == 1 and words[0] in topics():
        _show(topics()[words[0]])
    else:
        click.echo(_command_help(ctx.find_root(), words))


def _topic_lines() -> Iterator[str]:
    """The topics with a line each."""
    across = max(map(len, topics())) + 4
    yield worded("Topics of the guide:")
    yield ""
    for topic in topics().values():
        yield from paragraph(f"  {topic.name}".ljust(across), topic.does, line_width())
    yield ""
    yield worded("voicelog help TOPIC shows one, and voicelog help COMMAND what a command does.")
    yield worded("voicelog --help lists the commands.")


def _show(topic: Topic) -> None:
    """Page by page where somebody looks at a terminal that is too small for it."""
    from voicelog.cli.markdown import rendered  # rich takes a moment

    tall = shutil.get_terminal_size().lines
    looked_at = sys.stdout.isatty()
    text = rendered(for_terminal(topic.text), looked_at=looked_at)
    if looked_at and sys.stdin.isatty() and text.count("\n") >= tall:
        click.echo_via_pager(text)
    else:
        click.echo(text, nl=False)


def _command_help(root: click.Context, words: tuple[str, ...]) -> str:
    """What a command says with ``--help``.

    Raises:
        UsageFault: there is neither such a topic nor such a command.
    """
    context, known = root, list(topics())
    for word in words:
        group = context.command
        if not isinstance(group, click.Group):
            raise UsageFault(
                worded(
                    "{command} has no command {word}",
                    command=context.command_path,
                    word=repr(word),
                )
            )
        known += group.list_commands(context)
        inner = group.get_command(context, word)
        if inner is None:
            raise UsageFault(
                worded(
                    "There is no topic and no command {word}{did_you_mean}",
                    word=repr(word),
                    did_you_mean=did_you_mean(word, known),
                ),
                worded("voicelog help lists the topics, voicelog --help the commands"),
            )
        context, known = click.Context(inner, info_name=word, parent=context), []
    return context.get_help()
