"""The first line of a log that is recovered: what the old one said, and where it comes from."""

from __future__ import annotations

import uuid
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from voicelog import __version__
from voicelog.domain.fact import FORMAT, Fact
from voicelog.domain.inert import inert
from voicelog.domain.recovery import RECOVERED
from voicelog.journal import clock
from voicelog.journal.chain import FIRST_PREV
from voicelog.journal.lines import decode
from voicelog.journal.vouching import Vouched
from voicelog.runtime.old_grammar import OldGrammar

_LONGEST_NAME = 120


def first_line(taken: Vouched, grammar: OldGrammar) -> Fact:
    """How the new log is opened: as the old one was, with an id of its own.

    Where the line that opened the old one is lost, it holds what is known of it without: the map,
    and the time of the first line that is left.
    """
    line = taken.lines.get(1) or taken.opening
    own = {"log_id": str(uuid.uuid4()), "map": grammar.map, "grammar": grammar.hashes}
    if line is not None:
        old = decode(line.data, line.number)
        return Fact(1, old.at, old.offset_s, FIRST_PREV, "opened", {**old.body, **own})
    number = min(taken.lines)
    earliest = decode(taken.lines[number].data, number)
    body = {**own, "program": f"voicelog {__version__}", "format": FORMAT}
    return Fact(1, earliest.at, 0.0, FIRST_PREV, "opened", body)


def origin(
    said: Mapping[str, Any], folder: Path, sha256: str, figures: Mapping[str, Any]
) -> dict[str, Any]:
    """What the first line says of the old log.

    Args:
        said: what the line that opened it says.
        folder: where it lies.
        sha256: of its journal, as damaged as it is.
        figures: what was recovered of it.
    """
    known = {"log_id": said.get("log_id"), "before": said.get(RECOVERED)}
    return {
        "folder": inert(folder.resolve().name, _LONGEST_NAME),
        "sha256": sha256,
        "at": clock.rfc3339(clock.utc_now()),
        "program": f"voicelog {__version__}",
        **figures,
        **{name: value for name, value in known.items() if value is not None},
    }
