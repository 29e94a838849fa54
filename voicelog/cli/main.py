"""``voicelog``: the commands, their shared flags, and the one place where faults become exit codes."""

from __future__ import annotations

import gc
import io
import sys
from collections.abc import Sequence
from dataclasses import dataclass

import click

from voicelog.cli import streams
from voicelog.cli.helps import in_language
from voicelog.domain.inert import inert
from voicelog.errors import InputFault, VoicelogError, refusal
from voicelog.tongue import to_word, worded

_ROOM = 100_000
"""Objects made before Python looks for unreachable ones: starting up makes tens of thousands that
stay, and looking through them again and again took a tenth of the time."""

_LONGEST_LINE = 2_000
"""Characters of one line of a fault: a name in it may come from outside, and have millions."""


@dataclass(frozen=True, slots=True)
class _Lazy:
    """A command that is imported only when it is called.

    Args:
        module: where it lies.
        does: what the list of commands says of it, in one line of 80 columns.
        function: its name there, where that is not the command's.
    """

    module: str
    does: str
    function: str = ""


_LAZY = {
    "start": _Lazy("start", to_word("Inspect a vehicle: talk, and hear what was understood")),
    "demo": _Lazy("hearing", to_word("Hear a whole recorded inspection; no microphone needed")),
    "hear": _Lazy("hearing", to_word("Hear recordings, or raw sound on standard input")),
    "read": _Lazy("reading", to_word("Read text as it would be spoken")),
    "review": _Lazy("review", to_word("Go through a log: listen, correct, confirm, sign")),
    "amend": _Lazy("amend", to_word("Put one thing in a log right")),
    "sign": _Lazy("sign", to_word("Sign a log as it stands")),
    "why": _Lazy("why", to_word("Why entries have their grades, and what would change them")),
    "work": _Lazy("work", to_word("The work that a log asks for, the most urgent first")),
    "photos": _Lazy("photos", to_word("Match pictures to the entries of a log")),
    "vehicle": _Lazy("vehicle", to_word("What a log knows of its vehicle; add to it")),
    "list": _Lazy("listing", to_word("List inspections, the newest first"), "list_inspections"),
    "export": _Lazy("export", to_word("Write a report, a table or data from a log")),
    "verify": _Lazy("logs", to_word("Check that a log is whole, and what was signed")),
    "recover": _Lazy("recover", to_word("Write what is whole in a damaged log into a new one")),
    "erase": _Lazy("erase", to_word("Erase sound of a log, or all of it")),
    "compare": _Lazy("compare", to_word("What changed between two logs of one vehicle")),
    "relisten": _Lazy("relisten", to_word("Hear a log's sound again, and propose what differs")),
    "warm-up": _Lazy("warm_up", to_word("See which words the ear gets wrong for your voice")),
    "measure": _Lazy("measure", to_word("Score recordings of your voices; make the sheet to read")),
    "sounds": _Lazy("sounds", to_word("What each tone means, played one after the other")),
    "doctor": _Lazy("doctor", to_word("What is installed, what will be used, what is kept where")),
    "model": _Lazy("models", to_word("Models of the ears: what there is, and fetching one")),
    "words": _Lazy(
        "words", to_word("The spoken vocabulary: a page of it, checks, what was learned")
    ),
    "help": _Lazy(
        "help_topics", to_word("The guide: a topic of it, or what a command does"), "show_help"
    ),
    "completion": _Lazy("completion", to_word("The script that completes commands in your shell")),
    "manual": _Lazy("manual", to_word("The manual page of all commands, for man")),
}


class _Unread(Exception):
    """Whoever read the output has gone."""


class _Commands(click.Group):
    """Loads a command's module only when it is called: help and short commands start fast."""

    def list_commands(self, ctx: click.Context) -> list[str]:
        return list(_LAZY)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        if cmd_name not in _LAZY:
            return None
        from importlib import import_module

        lazy = _LAZY[cmd_name]
        module = import_module(f"voicelog.cli.{lazy.module}")
        command: click.Command = getattr(module, lazy.function or cmd_name.replace("-", "_"))
        return in_language(command)

    def invoke(self, ctx: click.Context) -> object:
        """Let nobody's reading reach :func:`run`: click would end with the code of any failure."""
        try:
            return super().invoke(ctx)
        except BrokenPipeError as gone:
            raise _Unread from gone

    def resolve_command(
        self, ctx: click.Context, args: list[str]
    ) -> tuple[str | None, click.Command | None, list[str]]:
        """Tell the nearest name where there is no such command."""
        if args[0] not in _LAZY and not ctx.resilient_parsing:
            from voicelog.config.faults import did_you_mean

            near = did_you_mean(args[0], _LAZY)
            raise click.UsageError(
                worded("There is no command {name}{near}.", name=repr(args[0]), near=near), ctx
            )
        return super().resolve_command(ctx, args)

    def format_commands(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:
        """List them without importing any: that took most of a second."""
        with formatter.section(worded("Commands")):
            formatter.write_dl([(name, worded(lazy.does)) for name, lazy in _LAZY.items()])


def _tell_versions(ctx: click.Context, _: click.Parameter, wanted: bool) -> None:
    """Print them and stop; what they are is only looked up when somebody asks."""
    if not wanted or ctx.resilient_parsing:
        return
    from voicelog.cli.paragraphs import say
    from voicelog.cli.versions import version_lines

    for line in version_lines():
        say(line)
    ctx.exit()


@click.group(cls=_Commands, context_settings={"help_option_names": ["-h", "--help"]})
@click.option(
    "--version",
    is_flag=True,
    is_eager=True,
    expose_value=False,
    callback=_tell_versions,
    help="Show the version, the ears and their models.",
)
def cli() -> None:
    """Talk through a frame inspection; get graded findings, and what nobody has looked at yet.

    Everything happens on this machine. Try it without a microphone:

    \b
      voicelog demo                       a whole recorded inspection
      voicelog hear walkround.wav         your own recording
      voicelog read "left front rail, surface rust, metal is firm"

    New here? voicelog help first-inspection takes ten minutes; voicelog help lists what else the
    guide tells.

    voicelog grades what was said. It certifies nothing: decisions about a vehicle are for licensed
    practice and local law.
    """


def run(arguments: Sequence[str] | None = None) -> None:
    """Run the command line and leave the process with the documented exit code."""
    gc.set_threshold(_ROOM)
    streams.fill()
    _show_every_character(sys.argv[1:] if arguments is None else arguments)
    try:
        in_language(cli).main(args=arguments, prog_name="voicelog", standalone_mode=False)
    except VoicelogError as fault:
        _leave(str(fault), fault.exit_code)
    except click.exceptions.Exit as leaving:
        sys.exit(leaving.exit_code)
    except click.exceptions.NoArgsIsHelpError as fault:
        click.echo(fault.format_message(), err=True)
        sys.exit(2)
    except click.ClickException as fault:
        advised = worded(
            "{message} Try {command} --help.",
            message=fault.format_message(),
            command=_command(fault),
        )
        _leave(advised, 2)
    except (KeyboardInterrupt, click.Abort):
        _leave(worded("Interrupted; what was said so far is in the log"), 130)
    except (_Unread, BrokenPipeError):
        streams.leave_unread()
    except OSError as fault:  # a path too long for the system, a full disk behind standard output
        told = refusal(fault)
        _leave(str(told), told.exit_code)
    except MemoryError:
        _leave(
            worded(
                "There is not enough memory for this. Give a smaller file, or close other programs"
            ),
            InputFault.exit_code,
        )


def _show_every_character(arguments: Sequence[str]) -> None:
    """Let no character stop a command where the output is not UTF-8: an old console, a file on Windows.

    What it cannot show becomes "?". JSON is UTF-8 wherever it goes (RFC 8259, section 8.1).
    """
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):
            stream.reconfigure(errors="replace")
    if "--json" in arguments and isinstance(sys.stdout, io.TextIOWrapper):
        sys.stdout.reconfigure(encoding="utf-8")


def _command(fault: click.ClickException) -> str:
    """The command whose help tells more."""
    context = fault.ctx if isinstance(fault, click.UsageError) else None
    return context.command_path if context is not None else "voicelog"


def _leave(message: str, code: int) -> None:
    shown = (inert(line, _LONGEST_LINE) for line in message.split("\n"))
    from voicelog.cli.paragraphs import say

    say("voicelog: " + "\n".join(shown), err=True)
    sys.exit(code)
