"""A log to be damaged, and what is recovered of it."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from spoken_log import SAID

from voicelog.domain.fact import Fact
from voicelog.export.contract import validate
from voicelog.journal.reading import read_log
from voicelog.runtime.damaged import Plan, plan_recovery
from voicelog.runtime.recovering import Recovered, recover

LAST = len(SAID) + 2
"""The number of its last line."""


def damaged(log: Path, *lines: bytes) -> None:
    """Puts other lines in the place of its own."""
    (log / "journal.jsonl").write_bytes(b"".join(lines))


def bytes_of(folder: Path) -> dict[str, bytes]:
    """Every file below a folder."""
    files = (path for path in sorted(folder.rglob("*")) if path.is_file())
    return {path.relative_to(folder).as_posix(): path.read_bytes() for path in files}


def recovered(log: Path) -> tuple[Plan, Recovered]:
    """What is recovered of it; the new log holds by itself, and the old one is as it was."""
    before = bytes_of(log)
    plan = plan_recovery(log)
    new = recover(plan)
    assert bytes_of(log) == before
    assert (new.check.problems, new.trouble) == ((), "")
    for fact in read_log(new.folder).facts:
        validate({"v": 1, **_envelope(fact), **fact.body}, "fact")
    return plan, new


def _envelope(fact: Fact) -> dict[str, Any]:
    names = ("seq", "at", "offset_s", "prev", "type")
    return {name: getattr(fact, name) for name in names}


def facts_but_first(folder: Path) -> list[tuple[int, str, Any]]:
    """What the lines say, behind the one that opened the log."""
    return [(fact.seq, fact.type, fact.body) for fact in read_log(folder).facts[1:]]
