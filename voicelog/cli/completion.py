"""``voicelog completion``: the script with which a shell completes commands, flags and logs."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

if TYPE_CHECKING:
    from click.shell_completion import CompletionItem

SHELLS = ("bash", "zsh", "fish")
_VARIABLE = "_VOICELOG_COMPLETE"
"""Asks the program for completions instead of running it; click's own name for it."""


@click.command()
@click.argument("shell", type=click.Choice(SHELLS))
def completion(shell: str) -> None:
    """Print the script that completes commands, flags, topics and logs in SHELL.

    \b
      voicelog completion bash >> ~/.bashrc
      voicelog completion zsh >> ~/.zshrc
      voicelog completion fish > ~/.config/fish/completions/voicelog.fish

    Open a new terminal afterwards. Then the Tab key completes: voicelog ex<Tab>. bash has to be 4.4
    or newer.
    """
    from click.shell_completion import get_completion_class

    from voicelog.cli.main import cli

    kind = get_completion_class(shell)
    assert kind is not None, "click has these three"  # noqa: S101
    click.echo(kind(cli, {}, "voicelog", _VARIABLE).source())


def logs_begun(_ctx: click.Context, _param: click.Parameter, begun: str) -> list[CompletionItem]:
    """ "last" and the logs in the usual folder; where none begins so, any folder."""
    from click.shell_completion import CompletionItem

    from voicelog.cli.flags import settings_from
    from voicelog.journal.naming import JOURNAL
    from voicelog.runtime.going_on import LAST

    kept = sorted(settings_from({}).into.glob(f"*/{JOURNAL}"), reverse=True)
    items = [CompletionItem(LAST, help="the newest log")]
    items += [CompletionItem(str(path.parent)) for path in kept]
    found = [item for item in items if item.value.startswith(begun)]
    return found or [CompletionItem(begun, type="dir")]
