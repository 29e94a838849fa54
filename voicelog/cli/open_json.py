"""Open points for a program, wherever a command tells them."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from voicelog.domain.inert import inert
from voicelog.domain.revision import OpenPoint
from voicelog.export.values import known


def open_json(points: Iterable[OpenPoint]) -> list[dict[str, Any]]:
    """What is unresolved, in the order given: its kind, its sentence, the entry where there is one."""
    return [
        known({"what": point.what, "text": inert(point.text), "entry": point.entry})
        for point in points
    ]
