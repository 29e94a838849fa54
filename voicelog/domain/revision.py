"""What happened to an entry after it was said: corrections at the bench, and who made them."""

from __future__ import annotations

from dataclasses import dataclass

from voicelog.domain.entry import Change, Finding


@dataclass(frozen=True, slots=True)
class Revision:
    """One line of the journal that changed entries.

    Args:
        seq: the line's number.
        at: when it was written, RFC 3339, UTC.
        did: ``said`` for an utterance; at the bench ``correct``, ``runner-up``, ``confirm``,
            ``withdraw``, ``restore``, ``split``, ``merge``, ``add``, ``reread``, ``move``, ``undo`` or
            ``redo``.
        changes: what it changed, in order.
        by: who did it; empty for what was said.
        why: the reason given; may be empty.
        of: the line that an ``undo`` or ``redo`` is about.
    """

    seq: int
    at: str
    did: str
    changes: tuple[Change, ...]
    by: str = ""
    why: str = ""
    of: int | None = None


@dataclass(frozen=True, slots=True)
class Alternative:
    """Another entry that the same sound may stand for.

    Args:
        text: the words it was read from.
        finding: the entry as it would stand, graded.
    """

    text: str
    finding: Finding


@dataclass(frozen=True, slots=True)
class OpenPoint:
    """Something unresolved that is told before anybody signs.

    Args:
        what: ``doubtful``, ``unsafe-without-photo``, ``cavity-not-seen``, ``milder-than-computed``,
            ``was-unsafe`` or ``not-recovered``.
        text: the same as a sentence that names the place.
        entry: the entry concerned, where there is one.
    """

    what: str
    text: str
    entry: str | None = None


@dataclass(frozen=True, slots=True)
class Signature:
    """Who signed the log as it stood at a line.

    Args:
        seq: the line that holds it.
        at: when, RFC 3339, UTC.
        by: who.
        lines: how many lines of the journal it covers: all before it.
        sha256: over these lines with their line feeds, lower-case hexadecimal.
        open: what was unresolved, as sentences.
        why: the reason for signing all the same.
    """

    seq: int
    at: str
    by: str
    lines: int
    sha256: str
    open: tuple[str, ...] = ()
    why: str = ""
