"""JSON made into other JSON: values of odd kinds, keys gone or doubled, branches grafted elsewhere."""

from __future__ import annotations

import copy
import random
from collections.abc import Iterator, MutableMapping, MutableSequence
from typing import Any

ODD: tuple[Any, ...] = (
    None, True, False, 0, -1, 1, 2, 100, 101, 10**30, -(10**30), 0.0, -0.0, 0.5, 1e-300, 1e308, "",
    " ", "u1", "u2", "u3", "e2.1", "e3.1", "clips/u2.flac", "../x", "/etc/x.toml", "\x1b[31m", "\u202e",
    "\ud800", "a" * 300, "left", "both", "hole", "unsafe", "through", "soft", "firm", "finding", "clear",
    "not-seen", "photo", "remark", [], {}, [[]], [{}], {"": None}, ["u2"], [None], [1, 2], {"a": {"b": []}},
    "2026-03-14T09:05:30.250Z", "2026-03-14T09:05:30.250+14:00", "0000-00-00T00:00:00Z", "0" * 64, "f" * 64,
)  # fmt: skip
"""Values that a reader may not have thought of."""

Place = tuple[Any, Any]
"""A list or an object, and an index or a key in it."""


def altered(document: Any, more: random.Random) -> Any:
    """A copy with a few changes, one after the other.

    Args:
        document: any JSON.
        more: what to draw from.
    """
    made = copy.deepcopy(document)
    for _ in range(more.choice((1, 1, 1, 2, 4))):
        made = _once(made, more)
    return made


def _once(document: Any, more: random.Random) -> Any:
    found = list(places(document))
    if not found:
        return copy.deepcopy(more.choice(ODD))
    more.choice(_CHANGES)(*more.choice(found), found, more)
    return document


def places(document: Any) -> Iterator[Place]:
    """Every place in which a value stands."""
    keys: Any = ()
    if isinstance(document, MutableMapping):
        keys = list(document)
    elif isinstance(document, MutableSequence):
        keys = range(len(document))
    for key in keys:
        yield document, key
        yield from places(document[key])


def _odd(within: Any, key: Any, _found: list[Place], more: random.Random) -> None:
    within[key] = copy.deepcopy(more.choice(ODD))


def _number(within: Any, key: Any, _found: list[Place], more: random.Random) -> None:
    value = within[key]
    known = value if isinstance(value, int | float) and not isinstance(value, bool) else 1
    within[key] = more.choice((known + 1, -known, known * 10, known / 3, str(known)))


def _gone(within: Any, key: Any, _found: list[Place], _more: random.Random) -> None:
    del within[key]


def _graft(within: Any, key: Any, found: list[Place], more: random.Random) -> None:
    other, there = more.choice(found)
    within[key] = copy.deepcopy(other[there])


def _renamed(within: Any, key: Any, found: list[Place], more: random.Random) -> None:
    if isinstance(within, MutableMapping):
        names = [name for other, name in found if isinstance(other, MutableMapping)]
        within[more.choice(names)] = within.pop(key)


def _doubled(within: Any, key: Any, _found: list[Place], _more: random.Random) -> None:
    if isinstance(within, MutableSequence):
        within.insert(key, copy.deepcopy(within[key]))


_CHANGES = (_odd, _odd, _number, _gone, _graft, _graft, _renamed, _doubled)
