"""The terminal for the screen alone."""

from __future__ import annotations

import os
import sys
import tempfile
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from textual.driver import Driver

STDERR = 2


def can_draw() -> bool:
    """A screen can be drawn: on the standard error, with keys from the standard input, in a terminal
    that can move its cursor, which one that calls itself ``dumb`` cannot.
    """
    streams = (sys.stdin, sys.stdout, sys.stderr)
    return os.environ.get("TERM") != "dumb" and all(
        stream is not None and stream.isatty() for stream in streams
    )


def driver() -> type[Driver] | None:
    """What reads keys and draws; None for the toolkit's own, on Windows."""
    if sys.platform == "win32":
        return None
    from voicelog.tui.steady_keys import SteadyDriver  # its toolkit starts slowly

    return SteadyDriver


@contextmanager
def to_ourselves() -> Iterator[Callable[[], str]]:
    """Draw through a copy of the standard error, and set aside what else is written to it.

    The screen is drawn on ``sys.__stderr__``. Sound libraries print to the same place, and
    sounddevice points it elsewhere while PortAudio is started anew: both would spoil the screen.

    Gives what tells the text set aside; to be asked before the end.
    """
    kept = os.dup(STDERR)
    screen = os.fdopen(os.dup(kept), "w", encoding="utf-8", errors="replace")
    before, sys.__stderr__ = sys.__stderr__, screen  # type: ignore[misc]
    with tempfile.TemporaryFile() as aside:
        os.dup2(aside.fileno(), STDERR)
        try:
            yield lambda: _all_of(aside.fileno())
        finally:
            sys.stderr.flush()
            os.dup2(kept, STDERR)
            os.close(kept)
            sys.__stderr__ = before  # type: ignore[misc]
            screen.close()  # fails where the terminal is gone: only now


def _all_of(file: int) -> str:
    """Read from the beginning; what is written next goes to the end again. Windows has no pread."""
    sys.stderr.flush()
    size = os.lseek(file, 0, os.SEEK_END)
    os.lseek(file, 0, os.SEEK_SET)
    text = os.read(file, size).decode("utf-8", errors="replace")
    os.lseek(file, 0, os.SEEK_END)
    return text
