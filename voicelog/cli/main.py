"""``voicelog``: the commands, their shared flags, and the one place where faults become exit codes."""

from __future__ import annotations

import gc
import sys
from collections.abc import Sequence

import click

from voicelog import __version__
from voicelog.errors import StorageFault, VoicelogError

_ROOM = 100_000
"""Objects made before Python looks for unreachable ones: starting up makes tens of thousands that
stay, and looking through them again and again took a tenth of the time."""

_LAZY = {
    "start": "voicelog.cli.start",
    "demo": "voicelog.cli.hearing",
    "hear": "voicelog.cli.hearing",
    "read": "voicelog.cli.reading",
    "review": "voicelog.cli.review",
    "amend": "voicelog.cli.amend",
    "sign": "voicelog.cli.sign",
    "why": "voicelog.cli.why",
    "work": "voicelog.cli.work",
    "photos": "voicelog.cli.photos",
    "vehicle": "voicelog.cli.vehicle",
    "list": "voicelog.cli.listing",
    "export": "voicelog.cli.export",
    "verify": "voicelog.cli.logs",
    "recover": "voicelog.cli.recover",
    "erase": "voicelog.cli.erase",
    "compare": "voicelog.cli.compare",
    "relisten": "voicelog.cli.relisten",
    "warm-up": "voicelog.cli.warm_up",
    "sounds": "voicelog.cli.sounds",
    "doctor": "voicelog.cli.doctor",
    "model": "voicelog.cli.models",
    "words": "voicelog.cli.words",
}

_FUNCTIONS = {"list": "list_inspections"}
"""Commands whose function is called otherwise, because Python has the name already."""


class _Commands(click.Group):
    """Loads a command's module only when it is called: help and short commands start fast."""

    def list_commands(self, ctx: click.Context) -> list[str]:
        return list(_LAZY)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        if cmd_name not in _LAZY:
            return None
        from importlib import import_module

        function = _FUNCTIONS.get(cmd_name, cmd_name.replace("-", "_"))
        command: click.Command = getattr(import_module(_LAZY[cmd_name]), function)
        return command


@click.group(cls=_Commands, context_settings={"help_option_names": ["-h", "--help"]})
@click.version_option(__version__, prog_name="voicelog")
def cli() -> None:
    """Talk through a frame inspection; get graded findings, and what nobody has looked at yet.

    Everything happens on this machine. Try it without a microphone:

    \b
      voicelog demo                       a whole recorded inspection
      voicelog hear walkround.wav         your own recording
      voicelog read "left front rail, surface rust, metal is firm"

    voicelog grades what was said. It certifies nothing: decisions about a vehicle are for licensed
    practice and local law.
    """


def run(arguments: Sequence[str] | None = None) -> None:
    """Run the command line and leave the process with the documented exit code."""
    gc.set_threshold(_ROOM)
    try:
        cli.main(args=arguments, prog_name="voicelog", standalone_mode=False)
    except VoicelogError as fault:
        _leave(str(fault), fault.exit_code)
    except click.exceptions.Exit as leaving:
        sys.exit(leaving.exit_code)
    except click.exceptions.NoArgsIsHelpError as fault:
        click.echo(fault.format_message(), err=True)
        sys.exit(2)
    except click.ClickException as fault:
        _leave(f"{fault.format_message()} Try {_command(fault)} --help.", 2)
    except (KeyboardInterrupt, click.Abort):
        _leave("Interrupted; what was said so far is in the log", 130)
    except BrokenPipeError:
        sys.stderr.close()
        sys.exit(141)
    except OSError as fault:  # a path too long for the system, a full disk behind standard output
        _leave(f"The system refused: {fault}", StorageFault.exit_code)


def _command(fault: click.ClickException) -> str:
    """The command whose help tells more."""
    context = fault.ctx if isinstance(fault, click.UsageError) else None
    return context.command_path if context is not None else "voicelog"


def _leave(message: str, code: int) -> None:
    shown = "".join(c if c.isprintable() or c == "\n" else "?" for c in message)
    click.echo(f"voicelog: {shown}", err=True)
    sys.exit(code)
