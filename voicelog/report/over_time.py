"""What changed since an earlier inspection."""

from __future__ import annotations

from voicelog.domain.grade import Grade
from voicelog.domain.report import Change
from voicelog.findings.over_time.words import NAMES, rate_in_words
from voicelog.report.material import Book
from voicelog.report.wording import counted, in_local_time
from voicelog.tongue import worded


def change_rows(book: Book) -> tuple[Change, ...]:
    """Every difference, the worst first; nothing where nothing was compared."""
    comparison = book.material.comparison
    if comparison is None:
        return ()
    return tuple(
        Change(worded(NAMES[one.change]), one.text, rate_in_words(one.rate) if one.rate else "")
        for one in comparison.differences
    )


def still_unsafe(book: Book) -> tuple[str, ...]:
    """What was unsafe in the earlier inspection and was not found again: milder answers heal nothing."""
    comparison = book.material.comparison
    if comparison is None:
        return ()
    lost = [
        one
        for one in comparison.differences
        if one.change in _UNANSWERED and one.then is Grade.UNSAFE
    ]
    if not lost:
        return ()
    number = counted(len(lost), "{count} unsafe finding", "{count} unsafe findings")
    older = in_local_time(comparison.older_at, book.opened).split(",")[0]
    return (
        worded(
            "{number} of {older}: nothing was said of a repair since, see “{since}”.",
            number=number,
            older=older,
            since=SINCE,
        ),
    )


_UNANSWERED = ("not-looked-at-again", "gone")
SINCE = "Since an earlier inspection"
"""Heading of what changed."""


def compared(book: Book) -> tuple[str, ...]:
    """Which earlier inspection that was, and what speaks against comparing them."""
    comparison = book.material.comparison
    if comparison is None:
        return ()
    older = in_local_time(comparison.older_at, book.opened)
    return (
        worded(
            "Compared with the inspection of {older}, log {older_2}",
            older=older,
            older_2=comparison.older,
        ),
        *comparison.warnings,
    )
