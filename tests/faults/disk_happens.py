"""What may happen at a call to the disk."""

from __future__ import annotations

import errno
from collections.abc import Callable
from typing import Any

from disk_calls import Call


class Dead(BaseException):
    """The program was killed here; nothing that it does afterwards reaches the disk."""


class DiesOfIt(OSError):
    """A call fails, and the program is killed before it can do anything about it."""


def refuse(code: int) -> Callable[[Call], Any]:
    """The call is refused once."""

    def happens(call: Call) -> Any:
        raise call.refused(code)

    return happens


def take_half(call: Call) -> Any:
    """A write takes half of its bytes; the program has to give the rest."""
    return call.half()


def die_before(call: Call) -> Any:
    """Killed, or the power cut."""
    raise Dead


def die_within(call: Call) -> Any:
    """Killed in the middle of a write; at any other call, right after it."""
    call.half()
    raise Dead


def die_of_a_failed_sync(call: Call) -> Any:
    """A sync fails, and the program is killed before it can try again; any other call: killed."""
    if call.name == "fsync":
        raise DiesOfIt(errno.EIO, "Input/output error")
    raise Dead
