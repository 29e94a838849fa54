"""The inspections in a folder, each in a few figures; a damaged one is named beside the others."""

from __future__ import annotations

import os
from collections import Counter
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field
from datetime import UTC, timezone
from pathlib import Path

from voicelog.config.cache import checked_folder
from voicelog.config.grammar import Grammar
from voicelog.config.settings import Settings
from voicelog.domain.fact import OF_THE_BENCH, Fact
from voicelog.domain.grade import Grade, Verdict
from voicelog.domain.local_time import zone_of
from voicelog.domain.signing import changed_after
from voicelog.errors import InputFault, VoicelogError
from voicelog.journal.grammar import kept_grammar
from voicelog.journal.lock import is_locked
from voicelog.journal.naming import JOURNAL
from voicelog.runtime.bench_view import BenchView
from voicelog.runtime.checked_log import checked_log
from voicelog.runtime.going_on import as_then
from voicelog.tongue import worded

CLOSED, GOING_ON, STOPPED = "closed", "going-on", "stopped"
"""It has ended; somebody is writing it now; it can be gone on with."""


@dataclass(frozen=True, slots=True)
class Listed:
    """One inspection of a folder.

    Args:
        folder: the log's.
        at: when it was opened, RFC 3339; empty where that cannot be read.
        zone: of the place where it was opened.
        subject: what was inspected.
        state: :data:`CLOSED`, :data:`GOING_ON` or :data:`STOPPED`; empty for a damaged one.
        verdict: None for a damaged one.
        grades: findings that hold, by grade.
        open_points: how many things are unresolved.
        signed: by whom, the newest signature; empty where nobody signed.
        changed: it was changed after that signature.
        damaged: why it cannot be read; empty where it can.
    """

    folder: Path
    at: str = ""
    zone: timezone = UTC
    subject: str = ""
    state: str = ""
    verdict: Verdict | None = None
    grades: Mapping[Grade, int] = field(default_factory=dict)
    open_points: int = 0
    signed: str = ""
    changed: bool = False
    damaged: str = ""


def inspections(
    parent: Path, settings: Settings, *, done: Callable[[int, int], None] = lambda _n, _all: None
) -> tuple[Listed, ...]:
    """Every inspection below a folder, the newest first; damaged ones where their names put them.

    Args:
        parent: searched with all folders below it, links left out; a log may also be named itself.
        settings: in force; what a log says of vehicle and speaker holds over them.
        done: told after each one how many are read, and of how many.

    Raises:
        InputFault: there is no such folder, or it cannot be read.
    """
    folders = logs_below(parent)
    grammars: dict[object, Grammar] = {}
    found: list[Listed] = []
    for number, folder in enumerate(folders, start=1):
        found.append(_listed(folder, settings, grammars))
        done(number, len(folders))
    return tuple(sorted(found, key=_when, reverse=True))


def logs_below(parent: Path) -> tuple[Path, ...]:
    """The folders of all logs in a folder, in the order of their names.

    Raises:
        InputFault: there is no such folder, or it cannot be read.
    """
    try:
        next(parent.iterdir(), None)
    except OSError as error:
        reason = error.strerror or error
        raise InputFault(
            worded(
                "The folder {parent} cannot be read: {reason}",
                parent=repr(str(parent)),
                reason=reason,
            ),
            worded("Name the folder in which the logs' folders lie"),
        ) from error
    return tuple(sorted(_below(parent)))


def _below(parent: Path) -> Iterator[Path]:
    """Logs lie in no log: what is in one is not searched."""
    for folder, inside, files in os.walk(parent):
        if JOURNAL in files:
            inside.clear()
            yield Path(folder)


def _when(listed: Listed) -> tuple[str, str]:
    """A log's name begins with its time, which stands in for one that cannot be read."""
    stamp = "".join(c for c in listed.at[:19] if c.isalnum()) or listed.folder.name[:15]
    return stamp, listed.folder.name


def _listed(folder: Path, settings: Settings, grammars: dict[object, Grammar]) -> Listed:
    try:
        return _read(folder, settings, grammars)
    except VoicelogError as fault:
        return Listed(folder, damaged=fault.message)


def _read(folder: Path, settings: Settings, grammars: dict[object, Grammar]) -> Listed:
    facts = checked_log(folder).facts
    opened = facts[0].body
    then = as_then(settings, opened)
    view = BenchView(folder, facts, then, _grammar(folder, facts[0], then.map, grammars))
    inspection, signatures = view.inspection(), view.signatures()
    grades = Counter(f.grade for f in inspection.live if f.grade is not None)
    return Listed(
        folder,
        at=facts[0].at,
        zone=zone_of(opened),
        subject=view.subject,
        state=_state(folder, facts),
        verdict=inspection.verdict,
        grades={grade: grades[grade] for grade in reversed(Grade) if grades[grade]},
        open_points=len(view.open_points()),
        signed=signatures[-1].by if signatures else "",
        changed=bool(signatures and changed_after(facts, signatures[-1])),
    )


def _grammar(folder: Path, opened: Fact, name: str, known: dict[object, Grammar]) -> Grammar:
    """The log's own; inspections of one shop mostly have the same, which is read once."""
    own, hashes = kept_grammar(folder, opened), opened.body.get("grammar")
    key = (name, tuple(sorted(hashes.items())) if isinstance(hashes, dict) else folder)
    if key not in known:
        known[key] = checked_folder(name, own)
    return known[key]


def _state(folder: Path, facts: tuple[Fact, ...]) -> str:
    spoken = [fact.type for fact in facts if fact.type not in OF_THE_BENCH]
    if spoken[-1] == "closed":
        return CLOSED
    return GOING_ON if is_locked(folder) else STOPPED
