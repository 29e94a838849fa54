"""What changed since an earlier inspection."""

from __future__ import annotations

from voicelog.domain.report import Change
from voicelog.findings.over_time.words import rate_in_words
from voicelog.report.material import Book
from voicelog.report.wording import in_local_time


def change_rows(book: Book) -> tuple[Change, ...]:
    """Every difference, the worst first; nothing where nothing was compared."""
    comparison = book.material.comparison
    if comparison is None:
        return ()
    return tuple(
        Change(one.change.replace("-", " "), one.text, rate_in_words(one.rate) if one.rate else "")
        for one in comparison.differences
    )


def compared(book: Book) -> tuple[str, ...]:
    """Which earlier inspection that was, and what speaks against comparing them."""
    comparison = book.material.comparison
    if comparison is None:
        return ()
    older = in_local_time(comparison.older_at, book.opened)
    return (
        f"Compared with the inspection of {older}, log {comparison.older}",
        *comparison.warnings,
    )
