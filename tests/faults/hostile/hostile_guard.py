"""Runs ``voicelog`` with its arguments in a program that may not reach any network.

It needs no right to do so: whatever opens a connection, listens, or looks up a name is refused by
Python's own audit hook and named on standard error. Where the system lets it, the program is put
into a network of its own as well, in which there is nothing, by ``unshare -n`` around this.
"""

from __future__ import annotations

import os
import sys
from typing import Any

REFUSED = 97
"""The exit code of a program that tried."""

_EVENTS = ("socket.connect", "socket.bind", "socket.sendto", "socket.sendmsg", "socket.get")


def _hook(event: str, arguments: tuple[Any, ...]) -> None:
    """Ends the program at once: an exception could be caught."""
    if event.startswith((*_EVENTS, "urllib.", "http.", "ftplib.", "smtplib.")):
        os.write(2, f"reached for the network: {event} {arguments!r}\n".encode())
        os._exit(REFUSED)


if __name__ == "__main__":
    sys.addaudithook(_hook)
    from voicelog.cli.main import run

    run(sys.argv[1:])
