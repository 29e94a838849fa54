"""Facts: the lines of a log, as the program has them.

A fact is one line of the journal. ``Fact.body`` is what the program has to say; order, time and
the chain of hashes are the journal's own business.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from voicelog.domain.change_json import changes_from_json
from voicelog.domain.entry import Change
from voicelog.errors import LogFault
from voicelog.tongue import worded

FORMAT = 1
"""Version of the journal's lines; a reader refuses a newer one, and reads the older ones."""

OF_THE_BENCH = frozenset((
    "revised", "listened", "learned", "signed", "vehicle", "photo", "clip-erased",
    "left-out", "was-signed", "photo-lost",  # what a recovery makes of them
))  # fmt: skip
"""Types of the lines that a review adds; they may follow an inspection's end."""


@dataclass(frozen=True, slots=True)
class Fact:
    """One line of a journal.

    Args:
        seq: 1 for the first line, then one more each.
        at: wall-clock time, RFC 3339, UTC.
        offset_s: seconds since the log was opened, from a monotonic clock.
        prev: SHA-256 of the line before, 64 zeros in the first.
        type: ``opened``, ``utterance``, ``second-opinion``, ``revised``, ``signed``, ``closed`` and
            others; readers keep those that they do not know.
        body: the rest of the line.
        known: what it changes, where that was worked out already; None where not.
    """

    seq: int
    at: str
    offset_s: float
    prev: str
    type: str
    body: Mapping[str, Any]
    known: tuple[Change, ...] | None = field(default=None, compare=False, repr=False)


def changes_of(fact: Fact) -> tuple[Change, ...]:
    """What a fact changes; nothing where it is about no entry.

    Raises:
        LogFault: it holds a change that cannot be read.
    """
    return fact.known if fact.known is not None else _changes(fact, "changes")


def proposed_in(fact: Fact) -> tuple[Change, ...]:
    """What a fact proposes: changes that hold only once somebody has affirmed them.

    Raises:
        LogFault: it holds a change that cannot be read.
    """
    return _changes(fact, "proposed")


def _changes(fact: Fact, key: str) -> tuple[Change, ...]:
    try:
        return changes_from_json(fact.body.get(key, ()))
    except (KeyError, TypeError, ValueError) as error:
        raise LogFault(
            worded("Line {seq} of the log holds a change nobody can read", seq=fact.seq),
            worded("Run voicelog verify on the log's folder."),
        ) from error
