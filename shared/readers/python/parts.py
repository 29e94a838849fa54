"""What the reader of documents and the one of journals share: JSON, and being strict about it."""

from __future__ import annotations

import json
from typing import Any, NoReturn

WORST_FIRST = ("unknown", "unsafe", "repair", "treat", "cosmetic")
"""Grades. ``unknown`` is this reader's own word for a finding whose grade it was not told: that may
be anything, so it stands before all others.
"""

_NAMES: dict[type, str] = {list: "list", dict: "object", str: "text"}


class Refused(Exception):
    """Something that cannot be read without guessing; the message is one clause about it."""


def parse(data: bytes, what: str) -> dict[str, Any]:
    """The JSON object in these bytes.

    Args:
        data: UTF-8 without a byte order mark.
        what: what to call it where it is refused.

    Raises:
        Refused: it is something else.
    """
    try:
        value = json.loads(data.decode("utf-8"), parse_constant=_no_number)
    except (ValueError, RecursionError):
        raise Refused(f"{what} is not JSON") from None
    if not isinstance(value, dict):
        raise Refused(f"{what} is not a JSON object")
    return value


def _no_number(word: str) -> NoReturn:
    """``NaN`` and ``Infinity``, which Python would take, are no JSON."""
    raise ValueError(word)


def of_type(holder: dict[str, Any], key: str, type_: type, otherwise: object = None) -> Any:
    """A value of a JSON object.

    Args:
        holder: the object.
        key: which of its values.
        type_: what it has to be.
        otherwise: what it is where it is left out; without, it has to be there.

    Raises:
        Refused: it is missing, or of another type.
    """
    value = holder.get(key, otherwise)
    if not isinstance(value, type_):
        raise Refused(f"It holds no {_NAMES[type_]} named {key}")
    return value


def is_doubtful(entry: dict[str, Any]) -> bool:
    """A flag that is left out is false; anything but a plain false counts as doubt."""
    return entry.get("doubtful", False) is not False
