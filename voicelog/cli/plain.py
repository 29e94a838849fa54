"""A live inspection as lines of text, for screen readers and simple terminals."""

from __future__ import annotations

import sys
import threading
from collections.abc import Iterator
from queue import Queue

import click
from rich.console import Console

from voicelog.cli.show import console, show_end, show_event
from voicelog.domain.inert import inert
from voicelog.export.document import answer
from voicelog.export.json_file import json_text
from voicelog.runtime.messages import (
    Closed,
    Engine,
    Message,
    Noticed,
    Opened,
    SoundEnded,
    State,
    StateChanged,
    Told,
    Took,
)
from voicelog.tui.actions import DEEDS, Deed, key_name

_TOLD = {
    State.STARTING: "Starting",
    State.CAUTIONS: 'Before you begin: say "affirm", or type a',
    State.LISTENING: "Listening",
    State.STANDING_BY: "Standing by: nothing is kept",
    State.HELD: "Not listening: the pedal is up",
    State.TOO_LOUD: "Too loud to hear",
    State.NO_MICROPHONE: "No microphone",
    State.STORAGE_REFUSED: "The disk refuses",
}
"""States worth a line. What changes with every utterance is left out: a screen reader would never
be done with it."""

_SCREEN_ONLY = frozenset(("pedal", "type", "plan", "colours"))
_KEYS = {
    key_name(key).lower(): deed
    for deed in DEEDS
    if deed.id not in _SCREEN_ONLY
    for key in deed.keys.split(",")
}
"""What is typed to a deed: the keys of the screen, followed by Enter."""


def run_plain(engine: Engine, *, as_json: bool) -> Closed | None:
    """Run it to its end.

    Args:
        engine: not started yet.
        as_json: print nothing but the entries and the verdict, at the end.
    """
    messages: Queue[Message] = Queue()
    engine.start(messages.put)
    keys = threading.Thread(target=_listen_to_keys, args=(engine,), daemon=True)
    keys.start()
    lines = None if as_json else _Lines(console())
    for message in _until_closed(messages, engine):
        if lines is not None:
            lines.show(message)
        if isinstance(message, SoundEnded) and not keys.is_alive():
            engine.stop()  # neither sound nor keys can come any more
        if isinstance(message, Closed):
            if as_json and message.inspection is not None:
                click.echo(json_text(answer(message.inspection)), nl=False)
            return message
    return None


def _until_closed(messages: Queue[Message], engine: Engine) -> Iterator[Message]:
    """Messages up to the last; an interrupt asks for the end and goes on waiting for it."""
    while True:
        try:
            message = messages.get()
        except KeyboardInterrupt:
            engine.stop()
            continue
        yield message
        if isinstance(message, Closed):
            return


def _listen_to_keys(engine: Engine) -> None:
    """One letter is a key, everything longer is words; the end of the input ends nothing."""
    for line in sys.stdin:
        _do(engine, line.strip())


def _do(engine: Engine, text: str) -> None:
    deed = _KEYS.get(text)
    if deed is not None and deed.action is not None:
        engine.act(deed.action)
    elif deed is not None and deed.id == "leave":
        engine.stop()
    elif deed is not None and deed.id == "help":
        click.echo("\n".join(map(_help_line, dict.fromkeys(_KEYS.values()))))
    else:
        engine.type(text)


def _help_line(deed: Deed) -> str:
    spoken = f' Say "{deed.spoken}".' if deed.spoken else ""
    return f"{deed.shown_keys:>8}  {deed.does}{spoken}"


class _Lines:
    """Prints messages, each at most once and in order."""

    def __init__(self, out: Console) -> None:
        self._out = out
        self._opened: Opened | None = None
        self._last = ""

    def show(self, message: Message) -> None:
        match message:
            case Opened():
                self._open(message)
            case StateChanged():
                self._state(message)
            case Took() if self._opened is not None:
                self._last = ""
                show_event(
                    self._out, message.event, self._opened.zone_map, resume=self._opened.resume
                )
            case Told() if message.text and (message.question or message.signal is None):
                self._line(f"  {'?' if message.question else '>'} {message.text}")
            case Noticed(text):
                self._line(f"! {text}")
            case Closed():
                self._end(message)
            case _:
                pass

    def _open(self, opened: Opened) -> None:
        self._opened = opened
        gone_on = ", gone on with" if opened.resumed else ""
        self._line(f"{opened.subject or 'Inspection'}{gone_on}. Log: {opened.log}")
        self._line(f"Ear: {opened.ear}. Microphone: {opened.device}. Type ? and Enter for keys.")
        for caution in opened.cautions:
            self._line(f"  * {caution}")

    def _state(self, changed: StateChanged) -> None:
        """Listening is told once after something else was; the rest when it changes."""
        told = _TOLD.get(changed.state, "")
        line = f"[{told}] {changed.detail}".rstrip()
        if told and line != self._last:
            self._last = line
            self._line(line)

    def _end(self, closed: Closed) -> None:
        if closed.inspection is not None and self._opened is not None:
            show_end(
                self._out, closed.inspection, self._opened.zone_map, log=closed.log, export=None
            )

    def _line(self, text: str) -> None:
        self._out.print(inert(text), markup=False, highlight=False)
