"""``voicelog start``: a live inspection, hands free."""

from __future__ import annotations

import errno
import os
import shlex
import signal
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from threading import Thread
from time import sleep
from typing import TYPE_CHECKING, Any

import click

from voicelog.cli.completion import logs_begun
from voicelog.cli.flags import ear_flags, settings_from, shared, with_options
from voicelog.cli.paragraphs import say
from voicelog.cli.streams import UNREAD
from voicelog.cli.vehicle_flags import take_vehicle, vehicle_flags
from voicelog.domain.choices import PEDALS, THEMES, VOICES
from voicelog.domain.inert import inert
from voicelog.domain.signal import Talk
from voicelog.runtime.messages import Closed
from voicelog.tongue import worded
from voicelog.tui.terminal import can_draw

if TYPE_CHECKING:
    from voicelog.config.settings import Settings
    from voicelog.runtime.live import LiveEngine

LAST_WORD_S = 40.0
"""So long the engine may need to end: it says its last words and closes the log."""
GRACE_S = 5.0
"""So long the front end may need after it."""
ENDED = 128
"""Added to a signal's number, as POSIX shells report a process that it has ended."""
HUNG_UP = ENDED + 1
"""The exit status where the terminal is gone."""

_LIVE = (
    click.option("--resume", metavar="LOG", shell_complete=logs_begun, help='Go on with a log that was stopped: its folder, or "last".'),
    click.option("--ask/--no-ask", default=True, help="Ask for what no flag has said (subject, map, driver's side, rails, how it stands)."),
    click.option("--microphone", metavar="NAME", help="Input device: its number or a part of its name; remembered."),
    click.option("--speaker", metavar="NAME", help="Output device, in the same way."),
    click.option("--voice", type=click.Choice(VOICES), help="What reads back [auto]."),
    click.option("--talk", type=click.Choice([str(talk) for talk in Talk]), help="How much is said aloud; tones sound always [findings]."),
    click.option("--push-to-talk", type=click.Choice(PEDALS), help="Listen while the pedal is down [off]."),
    click.option("--pedal", metavar="KEY", help="The key that a pedal or remote sends [space]."),
    click.option("--theme", type=click.Choice(THEMES), help="Colours of the screen [dark]."),
    click.option("--plain", is_flag=True, help="Lines of text instead of a screen: for screen readers and simple terminals."),
    click.option("--rehearse", is_flag=True, help="Play the bundled recordings, or AUDIO, in place of a microphone; asks nothing first."),
)  # fmt: skip


def _live(command: Any) -> Any:
    return with_options(command, _LIVE)


@click.command()
@click.argument("audio", nargs=-1, type=click.Path(path_type=Path))
@shared
@ear_flags
@vehicle_flags
@_live
def start(
    audio: tuple[Path, ...],
    as_json: bool,
    subject: str,
    resume: str | None,
    ask: bool,
    plain: bool,
    rehearse: bool,
    **flags: Any,
) -> None:
    """Inspect a vehicle: talk, and hear by tone and voice what became of it.

    \b
      voicelog start --subject "pickup 12" --driver-side left --rails boxed
      voicelog start --resume last                  go on, after a crash as well
      voicelog start --rehearse                     on recordings, no microphone
      voicelog start --push-to-talk hold --pedal f9 listen while the pedal is down
      voicelog start --plain                        lines, for a screen reader

    Everything can be said, and everything is also a key: press ? in the screen. What was said is on
    disk before its tone sounds. Stopping loses nothing: --resume goes on.
    """
    from voicelog.runtime.launching import Wishes, launch

    vehicle = take_vehicle(flags)
    settings = settings_from(flags)
    wishes = Wishes(
        subject=subject, resume=resume or "", ask=ask, map_given=flags.get("map") is not None,
        rehearse=rehearse or bool(audio), recordings=audio,
        microphone=flags.get("microphone") or "", vehicle=vehicle,
    )  # fmt: skip
    engine = launch(settings, wishes)
    with _stopping(engine):
        if plain or as_json or not can_draw():
            from voicelog.cli.plain import run_plain

            closed = run_plain(engine, as_json=as_json, pedal=settings.push_to_talk != "off")
        else:
            closed = _run_screen(engine, settings)
        _leave(closed)


def _run_screen(engine: LiveEngine, settings: Settings) -> Closed | None:
    """The screen; should it fail, what it said of that is shown once the terminal is back."""
    from voicelog.cli.show import console, show_end
    from voicelog.runtime.logs import DOCUMENT
    from voicelog.runtime.vehicles import vehicle_in
    from voicelog.tui.app import LiveApp
    from voicelog.tui.terminal import to_ourselves

    app, failure = LiveApp(engine, settings), ""
    with to_ourselves() as aside:
        closed = app.run()
        if app.return_code:
            failure = aside()
    if failure:
        click.echo(failure, err=True)
        raise click.ClickException(
            worded("The screen failed; voicelog start --plain --resume last goes on.")
        )
    if closed is not None and closed.inspection is not None and engine.opened is not None:
        document = closed.log / DOCUMENT if closed.finished and closed.log else None
        show_end(
            console(), closed.inspection, engine.opened.zone_map, log=closed.log, export=document,
            vehicle=vehicle_in(closed.log, closed.inspection) if closed.log else None,
        )  # fmt: skip
    return closed


@contextmanager
def _stopping(engine: LiveEngine) -> Iterator[None]:
    """However the front end ends, and whoever wishes it (Ctrl-C, a closed terminal, a system that
    shuts down): the engine ends in order, and before the process does.
    """
    asked: list[int] = []

    def end(number: int, _frame: object) -> None:
        asked.append(number)
        engine.stop(unasked=number != signal.SIGINT)
        Thread(target=_end_anyway, args=(engine, ENDED + number), daemon=True).start()

    names = ("SIGINT", "SIGTERM", "SIGHUP")
    wishes = [getattr(signal, name) for name in names if hasattr(signal, name)]
    before = [(wish, signal.signal(wish, end)) for wish in wishes]
    try:
        yield
    except OSError as fault:
        if fault.errno not in _NOBODY_THERE:
            raise
        engine.stop(unasked=True)
        engine.join(LAST_WORD_S)
        os._exit(_NOBODY_THERE[fault.errno])
    finally:
        engine.stop()
        engine.join(LAST_WORD_S)
        for (
            wish,
            handler,
        ) in before:  # whoever asked for the end is impatient, and need not ask again
            signal.signal(wish, signal.SIG_IGN if asked else handler)


_NOBODY_THERE = {errno.EIO: HUNG_UP, errno.EPIPE: UNREAD}
"""Writing fails so where the terminal, or whoever read a pipe, is gone, and the exit status then."""


def _end_anyway(engine: LiveEngine, status: int) -> None:
    """End the process a little after its log was closed: a screen whose terminal is gone may wait
    for ever until it takes one more line.
    """
    engine.join(LAST_WORD_S)
    sleep(GRACE_S)
    os._exit(status)


def _leave(closed: Closed | None) -> None:
    """Say how to go on, and end with the right code."""
    if closed is None:
        raise click.Abort
    if closed.fault:
        say(f"voicelog: {inert(closed.fault)}", err=True)
    if closed.log is not None and not closed.finished:
        say(
            worded("To go on: voicelog start --resume {quote}", quote=shlex.quote(str(closed.log))),
            err=True,
        )
    sys.exit(closed.exit_code)
