"""JSON text, and files of it that are either the old one or the new one, never half of each."""

from __future__ import annotations

import json
import os
import secrets
import stat
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from voicelog.errors import StorageFault
from voicelog.tongue import in_english, to_word, worded

PRIVATE = 0o600
"""Only the owner can read and write a new file; who hands it over lets others read it."""

_BINARY = getattr(os, "O_BINARY", 0)  # Windows would turn LF into CR LF, and knows no such modes


def json_text(document: Mapping[str, Any]) -> str:
    """The document as indented JSON with a final newline, whatever language messages are told in.

    Everything beyond ASCII is escaped: what somebody said or typed may hold control sequences or
    marks that turn the reading direction round, and must do nothing on the terminal of a reader.

    Raises:
        ValueError: a number is not finite (a defect: documents never hold one).
    """
    return json.dumps(in_english(document), ensure_ascii=True, allow_nan=False, indent=2) + "\n"


def write_json(document: Mapping[str, Any], path: Path) -> None:
    """Writes the document as :func:`json_text` has it, see :func:`write_bytes`.

    Raises:
        StorageFault: the folder is missing, the disk refused, or the path is a folder.
    """
    write_bytes(json_text(document).encode(), path)


def write_bytes(data: bytes, path: Path) -> None:
    """Writes a file; an earlier one is replaced in one step once the new one is on disk.

    A new file is for its owner only: it tells of a vehicle, a person and a place. One that is replaced
    keeps who may read it. A path that is no regular file (``/dev/stdout``, a named pipe) is written
    to, not replaced.

    Args:
        data: what to write.
        path: where; a link is followed.

    Raises:
        StorageFault: the folder is missing, the disk refused, or the path is a folder.
    """
    try:
        target = Path(os.path.realpath(path))
        if target.exists() and not target.is_file() and not target.is_dir():
            target.write_bytes(data)
        else:
            _replace(target, data)
    except (OSError, ValueError) as fault:  # ValueError: a NUL in the path
        raise StorageFault(
            worded("{path} could not be written: {why}", path=_shown(path), why=_why(fault)),
            worded(_HINT),
        ) from fault


_HINT = to_word("Name a file in a folder that exists and has room, and run the command again.")


def _replace(target: Path, data: bytes) -> None:
    # The temporary name is short and of our own, so that a long target name still fits.
    beside = target.parent / f".voicelog-{secrets.token_hex(6)}.tmp"
    try:
        opened = os.open(beside, os.O_WRONLY | os.O_CREAT | os.O_EXCL | _BINARY, PRIVATE)
        with open(opened, "wb") as file:  # noqa: PTH123  a descriptor, not a path
            if target.exists() and not _BINARY:  # whoever let others read it goes on letting them
                os.fchmod(opened, stat.S_IMODE(target.stat().st_mode))
            file.write(data)
            file.flush()
            os.fsync(file.fileno())
        beside.replace(target)
    finally:
        beside.unlink(missing_ok=True)


def _shown(path: Path) -> str:
    return repr(str(path)).encode("ascii", "backslashreplace").decode()


def _why(fault: Exception) -> str:
    return getattr(fault, "strerror", None) or str(fault)
