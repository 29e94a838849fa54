"""Logs as they come from anywhere: read, and held against the contract before anything uses them.

Whoever hands over a log can make every hash in it fit. So a whole chain says that nobody damaged it
on the way, and nothing of what its lines hold.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

from voicelog.domain.fact import Fact
from voicelog.errors import LogFault
from voicelog.journal.reading import Log, Report, Walk, iter_facts, kept
from voicelog.journal.reading import verify as verify_files
from voicelog.runtime.checked_before import checked_before, remember
from voicelog.tongue import worded

if TYPE_CHECKING:
    from voicelog.journal.journal import Journal

_MOST = 20
"""Lines that are named; more are no news."""


def checked_log(folder: Path) -> Log:
    """All facts of a log, each as the contract has it.

    Raises:
        InputFault: there is no log, or it cannot be read.
        LogFault: it is damaged or newer, or a line holds what the contract has no room for.
    """
    return _checked(Walk(folder, checked_before(folder)))


def log_to_go_on_with(folder: Path) -> tuple[Journal, Log]:
    """A log open for writing, and all facts of it, read while nobody else writes any.

    Raises:
        InputFault, LogFault: as for :func:`checked_log`.
        LockedFault: somebody else is writing it.
        StorageFault: the disk refuses.
    """
    from voicelog.journal.journal import Journal  # not needed to read a log

    return Journal.go_on(folder, _checked, checked_before(folder))


def _checked(walk: Walk) -> Log:
    def fitting(fact: Fact) -> None:
        if fact.seq > walk.checked:
            _fit(fact)

    log = kept(walk, fitting)
    if walk.chain.lines > walk.checked:
        remember(walk.folder, walk.known)
    return log


def verify(folder: Path) -> Report:
    """Checks all of a log: its files, and where these are whole, what its lines hold.

    Raises:
        InputFault: there is no log, or it cannot be read.
        NewerLog: a newer version wrote it, so that it cannot be checked.
    """
    report = verify_files(folder)
    if not report.ok:
        return report
    odd = tuple(line for _, line in zip(range(_MOST), _misfits(iter_facts(folder)), strict=False))
    return replace(report, problems=odd) if odd else report


def _fit(fact: Fact) -> None:
    """Sees that a fact is as the contract has it.

    Raises:
        LogFault: it is not.
    """
    for line in _misfits((fact,)):
        raise LogFault(
            worded("The log cannot be used: {line}", line=line),
            worded(
                "It is not as voicelog writes it. Ask whoever made it; voicelog verify lists all of it."
            ),
        )


def _misfits(facts: Iterable[Fact]) -> Iterator[str]:
    """A sentence on each line that does not fit."""
    from voicelog.export.line_check import misfit  # pydantic's models start slowly

    for fact in facts:
        if odd := misfit(fact):
            yield worded(
                "line {seq} does not fit the contract ({misfit})", seq=fact.seq, misfit=odd
            )
