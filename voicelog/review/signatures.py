"""Signing: what a signature says.

Reading signatures lies in :mod:`voicelog.domain.signing`, since the exported document and
``voicelog verify`` tell of them as well.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from voicelog.domain.revision import OpenPoint
from voicelog.errors import UsageFault
from voicelog.tongue import worded, worded_many


def signed_body(
    by: str, *, lines: int, sha256: str, unresolved: Iterable[OpenPoint] = (), why: str = ""
) -> dict[str, Any]:
    """What a ``signed`` line says; white space around name and reason does not count.

    Args:
        by: who signs.
        lines: how many lines of the journal it covers: all before it.
        sha256: over these lines with their line feeds, lower-case hexadecimal.
        unresolved: what is open.
        why: the reason for signing all the same; kept only where something is open.

    Raises:
        UsageFault: nobody is named, or something is open and no reason is given.
    """
    name, reason, told = by.strip(), why.strip(), [point.text for point in unresolved]
    if not name:
        raise UsageFault(worded("A signature needs a name"), worded("Say who signs."))
    if told and not reason:
        raise UsageFault(
            worded_many(
                "{count} point is still open, and signing all the same needs a reason",
                "{count} points are still open, and signing all the same needs a reason",
                len(told),
            ),
            worded("Resolve them, or give the reason."),
        )
    body: dict[str, Any] = {"by": name, "lines": lines, "sha256": sha256, "open": told}
    return body | {"why": reason} if told else body
