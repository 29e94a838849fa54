"""The last thing before a report leaves: every text in it made inert, whatever part it came from."""

from __future__ import annotations

from dataclasses import fields, is_dataclass, replace
from typing import Any, TypeVar

from voicelog.domain.inert import inert

_Part = TypeVar("_Part")

LONGEST = 2000
"""Characters of one text; more is no sentence, and would make a page of one line."""


def made_inert(part: _Part, *, but: tuple[str, ...] = ()) -> _Part:
    """The same with no control characters and no marks that turn the reading direction.

    Args:
        part: a report, or any part of one.
        but: fields that stay as they are, since they are no text: the drawing.
    """
    cleaned: _Part = _clean(part, but)
    return cleaned


def _clean(value: Any, but: tuple[str, ...]) -> Any:
    if isinstance(value, str):
        return inert(value, LONGEST)
    if isinstance(value, tuple):
        return tuple(_clean(one, but) for one in value)
    if is_dataclass(value) and not isinstance(value, type):
        names = [field.name for field in fields(value) if field.name not in but]
        return replace(value, **{name: _clean(getattr(value, name), but) for name in names})
    return value
