"""How far a long log was checked before, so that opening it again need not check all of it.

What is remembered holds for the very bytes that were checked, by the program that checked them: a log
that was changed since, or a newer program, is checked from its first line.
"""

from __future__ import annotations

import json
from contextlib import suppress
from pathlib import Path

from voicelog.config.short_cut import cache_home, found, keep, name_of
from voicelog.journal.chain import Chain, open_journal
from voicelog.journal.late_body import LONG, is_long
from voicelog.journal.lines import LONGEST_LINE
from voicelog.journal.seal import Known

KEPT = 64
"""Logs whose checks are remembered; the oldest go first. Each takes some 300 bytes."""

_CHECKING = ("domain", "export", "journal", "runtime")
"""The packages that decide what fits."""


def checks_folder() -> Path:
    """Where it is remembered: hashes and numbers, nothing that was said."""
    return cache_home() / "checked"


def checked_before(folder: Path) -> Known | None:
    """What is remembered of a log; None where that is nothing, or cannot be read.

    Args:
        folder: the log's.

    Raises:
        InputFault: there is no log, or it cannot be read.
    """
    if not is_long(folder):  # nothing is kept of it, and its name takes a look at every module
        return None
    name = _name(folder)
    try:
        told = json.loads(found(checks_folder(), name))
        return Known(Chain(**told["chain"]), told["sha256"])
    except Exception:  # of a cache, anything: it is only a short cut
        return None


def remember(folder: Path, known: Known) -> None:
    """Remember what was checked; where that cannot be written, nothing is lost.

    Args:
        folder: the log's.
        known: all lines that were checked. Of a log that is checked quickly nothing is kept.

    Raises:
        InputFault: there is no log any more, or it cannot be read.
    """
    if known.chain.size <= LONG:
        return
    told = {"chain": known.chain._asdict(), "sha256": known.sha256}
    with suppress(OSError):
        keep(checks_folder(), _name(folder), json.dumps(told).encode(), KEPT)


def _name(folder: Path) -> str:
    """The name for a log, by its first line, and what checks it.

    Raises:
        InputFault: there is no log, or it cannot be read.
    """
    with open_journal(folder) as file:
        return name_of((file.readline(LONGEST_LINE),), _CHECKING)
