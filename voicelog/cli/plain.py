"""A live inspection as lines of text, for screen readers and simple terminals."""

from __future__ import annotations

import sys
import threading
from collections.abc import Iterator, Mapping
from queue import Queue

import click

from voicelog.cli.paragraphs import say
from voicelog.cli.plain_lines import PlainLines
from voicelog.cli.show import console
from voicelog.domain.inert import inert
from voicelog.export.answer import answer
from voicelog.export.json_file import json_text
from voicelog.runtime.messages import (
    Action,
    Closed,
    Engine,
    Message,
    Opened,
    SoundEnded,
)
from voicelog.tongue import to_word, worded
from voicelog.tui.actions import DEEDS, Deed, key_name, with_words

_DOES = {
    "leave": to_word("Stops, to be gone on with later."),
    "help": to_word("These lines."),
}
"""Where a line does something other than the screen's key."""
_SCREEN_ONLY = frozenset(("pedal", "type", "plan", "colours"))
_KEYS = {
    key_name(key).lower(): deed
    for deed in DEEDS
    if deed.id not in _SCREEN_ONLY
    for key in deed.keys.split(",")
}
"""What is typed to a deed: the keys of the screen, followed by Enter."""


def run_plain(engine: Engine, *, as_json: bool, pedal: bool = False) -> Closed | None:
    """Run it to its end.

    Args:
        engine: not started yet.
        as_json: print nothing but the entries and the verdict, at the end.
        pedal: it listens only while the pedal is down; an empty line moves it.
    """
    messages: Queue[Message | _KeysEnded] = Queue()
    engine.start(messages.put)
    keys = _Keys(engine, pedal)
    threading.Thread(target=keys.listen, args=(messages,), daemon=True).start()
    lines = None if as_json else PlainLines(console())
    over = set[type]()
    for message in _until_closed(messages, engine):
        if isinstance(message, SoundEnded | _KeysEnded):
            over.add(type(message))
            if len(over) == 2:  # neither sound nor keys can come any more
                engine.stop()
        if isinstance(message, Opened):
            keys.spoken = message.spoken
        if lines is not None:
            lines.show(message)
        if isinstance(message, Closed):
            if as_json and message.inspection is not None:
                click.echo(json_text(answer(message.inspection)), nl=False)
            return message
    return None


class _KeysEnded:
    """The input has ended."""


def _until_closed(
    messages: Queue[Message | _KeysEnded], engine: Engine
) -> Iterator[Message | _KeysEnded]:
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


class _Keys:
    """Lines from the keyboard: one letter is a key, everything longer is words."""

    def __init__(self, engine: Engine, pedal: bool) -> None:
        self.spoken: Mapping[Action, str] = {}
        self._engine, self._pedal, self._down = engine, pedal, False

    def listen(self, messages: Queue[Message | _KeysEnded]) -> None:
        """To the end of the input, which alone ends nothing."""
        for line in sys.stdin or ():
            self._do(line.strip())
        messages.put(_KeysEnded())

    def _do(self, text: str) -> None:
        deed = _KEYS.get(text)
        if not text:
            self._press()
        elif deed is not None and deed.action is not None:
            self._engine.act(deed.action)
        elif deed is not None and deed.id == "leave":
            self._engine.stop()
        elif deed is not None and deed.id == "help":
            say("\n".join(self._help()), err=True)
        elif len(text) == 1:  # a slip, and no word that anybody says
            told = worded(
                "There is no key {name}. Type ? and Enter for keys", name=repr(inert(text))
            )
            say(told, err=True)
        else:
            self._engine.type(text)

    def _press(self) -> None:
        """An empty line moves the pedal; without one it makes the tool fall silent."""
        if self._pedal:
            self._down = not self._down
            self._engine.act(Action.PEDAL_DOWN if self._down else Action.PEDAL_UP)
        else:
            self._engine.act(Action.PEDAL_DOWN)
            self._engine.act(Action.PEDAL_UP)

    def _help(self) -> Iterator[str]:
        yield worded("Type one of these, or whole sentences, and press Enter:")
        shown = {deed.id for deed in _KEYS.values()}
        for deed in with_words(self.spoken):
            if deed.id in shown:
                spoken = (
                    (" " + worded('Say "{spoken}".', spoken=deed.spoken)) if deed.spoken else ""
                )
                does = _DOES.get(deed.id, deed.does)
                yield f"  {_letter(deed):<3} {worded(does)}{spoken}"
        yield (
            ("  " + worded("Enter alone: moves the pedal"))
            if self._pedal
            else ("  " + worded("Enter alone: it falls silent"))
        )


def _letter(deed: Deed) -> str:
    """The key that can be typed as a line."""
    return next(name for name in map(key_name, deed.keys.split(",")) if len(name) == 1)
