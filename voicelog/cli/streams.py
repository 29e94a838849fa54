"""The standard streams of a process whose parent gave it none, or whose reader has gone."""

from __future__ import annotations

import os
import sys
from contextlib import suppress

UNREAD = 141
"""The exit status of a process whose output nobody reads any more (128 and the number of SIGPIPE, as
POSIX shells report it)."""

_STREAMS = {"stdin": "r", "stdout": "w", "stderr": "w"}


def fill() -> None:
    """Open what was closed before the start on the null device: whatever is opened next would take
    its number, and be written to as if it were the terminal.
    """
    for name, mode in _STREAMS.items():
        if getattr(sys, name) is None:  # the lowest number that is free is its own
            setattr(sys, name, open(os.devnull, mode, encoding="utf-8"))  # noqa: SIM115, PTH123


def leave_unread() -> None:
    """End the process: nothing it says would be read, and Python would say so on the way out."""
    for stream in (sys.stdout, sys.stderr):
        with suppress(OSError, ValueError):
            stream.flush()
    os._exit(UNREAD)
