"""The keyboard goes on, whatever comes in and however slow the machine is."""

from __future__ import annotations

import os
import pty
import subprocess
import sys
import time
from collections.abc import Iterable

import pytest
from textual import events
from textual.message import Message

from voicelog.tui import steady_keys
from voicelog.tui.steady_keys import LONGEST, PASTE_TICKS, SteadyKeys, harmless

BEGIN, END = "\x1b[200~", "\x1b[201~"


def told(found: Iterable[Message]) -> list[str]:
    """Keys by name, pasted texts in quotation marks."""
    return [
        repr(one.text) if isinstance(one, events.Paste) else one.key
        for one in found
        if isinstance(one, events.Paste | events.Key)
    ]


def fed(*pieces: str | float) -> list[str]:
    """What these pieces make, with a look round after each as the driver takes it; a number is a
    pause in seconds, and the machine is slow for as long before that look.
    """
    keys, made = SteadyKeys(), list[str]()
    for piece in pieces:
        if isinstance(piece, str):
            made += told(keys.feed(piece))
        else:
            time.sleep(piece)
            made += told(keys.tick())
    return made


@pytest.mark.parametrize("at", range(1, len(BEGIN + "xy" + END)))
def test_a_slow_machine_does_not_lose_the_end_of_a_pasted_text(at: int) -> None:
    """Cut in two anywhere, with the keyboard's patience over in between: the keys go on."""
    whole = BEGIN + "xy" + END
    assert fed(whole[:at], 0.11, whole[at:], "q") == ["'xy'", "q"]


def test_the_escape_key_is_still_known_from_a_sequence() -> None:
    """By nothing following it for a tenth of a second."""
    assert fed("\x1b", 0.0, 0.11, "q") == ["escape", "q"]
    assert fed("\x1b", 0.0, "[A", 0.0) == ["up"]


def test_escapes_in_a_pasted_text_press_no_keys() -> None:
    """They would stop the inspection, or withdraw an entry, if nobody had opened the typed line."""
    assert fed(BEGIN + "left\x1b]0;x\x07 sill\x1bqq\x9b2J\nhole" + END + "a") == [
        repr("left]0;x sillqq2J\nhole"),
        "a",
    ]


def test_a_pasted_text_without_an_end_ends_by_itself() -> None:
    """After two seconds in which nothing came, and the keys go on."""
    assert fed(BEGIN + "lost", *[0.0] * (PASTE_TICKS + 1), "q") == ["'lost'", "q"]


def test_several_in_one_piece_and_one_in_single_characters() -> None:
    """The pieces are the terminal's affair."""
    assert fed("a" + BEGIN + "1" + END + BEGIN + END + "b") == ["a", "'1'", "''", "b"]
    assert fed(*(BEGIN + "one" + END + "b")) == ["'one'", "b"]


def test_an_endless_pasted_text_takes_no_endless_memory() -> None:
    """What is beyond the limit is dropped, its end is found."""
    kept = fed(BEGIN, *["x" * 40_000] * 4, END[:3], END[3:], "q")
    assert LONGEST - 10 < len(kept[0]) <= LONGEST + 2
    assert kept[1:] == ["q"]


def test_ends_of_lines_and_tabs_stay() -> None:
    """All else that steers a terminal goes."""
    assert harmless("a\tb\r\nc\x00\x7f\x85ü‮") == "a\tb\r\ncü‮"


APP = """
import sys
from textual.app import App
from voicelog.tui.terminal import driver

class Keys(App, inherit_bindings=False):
    got = []
    def on_key(self, event):
        self.got.append(event.key)
        if event.key == "q":
            self.exit()

app = Keys(driver_class=driver())
app.run()
sys.stdout.write("GOT " + " ".join(app.got) + "\\n")
"""


def test_bytes_of_another_encoding_end_nothing() -> None:
    """A terminal that sends Latin-1, or a key whose number no character has: the keys go on."""
    master, slave = pty.openpty()
    with subprocess.Popen(
        [sys.executable, "-c", APP], stdin=slave, stdout=subprocess.PIPE, stderr=slave,
        env={**os.environ, "TERM": "xterm"}, start_new_session=True,
    ) as child:  # fmt: skip
        os.close(slave)
        os.read(master, 65_536)  # it draws: it is up
        time.sleep(0.5)
        for piece in (b"a", b"\xfc\xe4", b"b", b"\x1b[99999999999;1u", b"c", b"q"):
            os.write(master, piece)
            time.sleep(0.15)
        out, _ = child.communicate(timeout=10)
    os.close(master)
    assert out.decode().split("GOT ")[1].split()[-1] == "q"
    assert {"a", "b", "c"} <= set(out.decode().split("GOT ")[1].split())


def test_the_driver_takes_this_reader() -> None:
    """It makes its reader by a name of its own module; should that change, the rest is in vain."""
    made = steady_keys.linux_driver.LinuxDriver.run_input_thread.__globals__["XTermParser"]
    assert made is SteadyKeys
