"""TOML from outside: read no further than an honest file goes, and parsed without running away.

The standard parser is made for files that somebody wrote. One that somebody made to hurt can nest
until the stack is used up, hold a number whose digits fill the memory, or a key of so many parts
that the work grows with their square.
"""

from __future__ import annotations

import errno
import os
import re
import tomllib
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from voicelog.tongue import worded

LONGEST = 1024 * 1024
"""Bytes of a file; the largest one that is shipped has a ninth of that."""

_MOST_PARTS = 32
"""Parts of a dotted key; the deepest that any of our files knows has three."""
_PART = r"""(?:[A-Za-z0-9_-]++|"[^"\n]*+"|'[^'\n]*+')"""
_MANY_PARTS = re.compile(
    rf"(?:^|[\[{{,])[ \t]*+({_PART}(?:[ \t]*+\.[ \t]*+{_PART}){{{_MOST_PARTS}}})"
)
_MOST_DIGITS = 400
"""Signs of a number: the longest number that a double can need has fewer in front of its point."""
_MANY_DIGITS = re.compile(rf"(?<![A-Za-z0-9_])([0-9][0-9A-Fa-f_.xob]{{{_MOST_DIGITS}}})")

_MOST_ROWS = 10_000
"""Tables of one name; the fullest file that is shipped has a few hundred."""


def bounded(path: Path) -> bytes:
    """All of a file, if it is no longer than :data:`LONGEST`.

    Raises:
        OSError: it cannot be read, or is longer.
    """
    with path.open("rb") as file:
        raw = file.read(LONGEST + 1)
    if len(raw) > LONGEST:
        raise OSError(
            errno.EFBIG,
            worded("it is larger than {size} MiB", size=LONGEST // 2**20),
            os.fspath(path),
        )
    return raw


def parsed(text: str) -> Mapping[str, Any]:
    """The contents of a TOML text.

    Raises:
        tomllib.TOMLDecodeError: it is not TOML, or made to be more than anybody could want.
    """
    for number, line in enumerate(text.split("\n"), 1):
        if len(line) > _MOST_DIGITS or line.count(".") >= _MOST_PARTS:
            _refuse(number, line)
    data = _read(text)
    rows = (len(value) for value in data.values() if isinstance(value, list))
    if max(rows, default=0) > _MOST_ROWS:
        raise tomllib.TOMLDecodeError(f"It has more than {_MOST_ROWS:,} entries of a kind")
    return data


def _read(text: str) -> Mapping[str, Any]:
    try:
        return tomllib.loads(text)
    except tomllib.TOMLDecodeError:
        raise
    except RecursionError:
        raise tomllib.TOMLDecodeError("It is nested too deeply") from None
    except ValueError as error:  # what a number or a date is made of, and cannot be
        raise tomllib.TOMLDecodeError(f"It holds a value that cannot be read: {error}") from None


def _refuse(number: int, line: str) -> None:
    """Raises for what the parser should not be given; neither goes on over the end of a line."""
    for odd, what in (
        (_MANY_PARTS, "a key of too many parts"),
        (_MANY_DIGITS, "a number too long"),
    ):
        if found := odd.search(line):
            raise tomllib.TOMLDecodeError(f"{what} (at line {number}, column {found.start(1) + 1})")
