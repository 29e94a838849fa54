"""Small TOML files written by the program: single values, and the file replaced in one step."""

from __future__ import annotations

import json
import os
import secrets
from datetime import date
from errno import EACCES
from pathlib import Path

from voicelog.errors import StorageFault
from voicelog.tongue import Worded, worded

PRIVATE = 0o600
"""Only the owner can read and write the file."""
SHARED = 0o666
"""Whoever the machine lets: what its own mask leaves of it."""


def toml(value: object) -> str:
    """A value in TOML. JSON's escapes are TOML's as well; DEL is the one JSON leaves bare."""
    if isinstance(value, date):
        return value.isoformat()
    return json.dumps(value, ensure_ascii=False).replace("\x7f", "\\u007f")


def replace_file(path: Path, text: str, *, otherwise: Worded, mode: int = PRIVATE) -> None:
    """The old file or the new one, never half of each; one that is read-only is meant to stay.

    Args:
        path: the file; its folder is made.
        text: all of it.
        otherwise: what follows while it cannot be written, to end the next step with.
        mode: who may read and write it.

    Raises:
        StorageFault: the folder or the disk refused.
    """
    try:
        path = Path(os.path.realpath(path))  # a link stays one
        if path.exists() and not os.access(path, os.W_OK):
            raise PermissionError(EACCES, worded("it is read-only"))
        beside = path.parent / f".{secrets.token_hex(6)}.tmp"
        path.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
        opened = os.open(beside, os.O_WRONLY | os.O_CREAT | os.O_EXCL, mode)
        try:
            with open(opened, "wb") as file:  # noqa: PTH123  a descriptor, not a path
                file.write(text.encode("utf-8", "replace"))
                file.flush()
                os.fsync(file.fileno())
            beside.replace(path)
        finally:
            beside.unlink(missing_ok=True)
    except OSError as fault:
        raise StorageFault(
            worded(
                "{path} could not be written: {reason}",
                path=repr(str(path)),
                reason=fault.strerror or fault,
            ),
            worded("Check the folder and the room on the disk; {otherwise}", otherwise=otherwise),
        ) from fault
