"""What evidence is missing still."""

from __future__ import annotations

from collections.abc import Iterator

from voicelog.domain.entry import Finding
from voicelog.report.material import Book
from voicelog.report.wording import counted, listed, with_numbers
from voicelog.tongue import worded

_NAMED = 12
"""Files that one sentence names at most."""


def lacks(finding: Finding, book: Book) -> str:
    """What picture a finding still lacks, as the rest of a sentence about it; empty where none."""
    lack = book.lack_of.get(finding.entry.id)
    if lack is None:
        return ""
    claimed = worded("a photo was announced, but none is matched")
    return claimed if lack.claimed else worded("there is no photo of it")


def lacking(book: Book) -> tuple[str, ...]:
    """All that is missing, as sentences."""
    told = (with_numbers(lack.text, book.numbers) for lack in book.lacks)
    return (*told, *_unshown(book))


def _unshown(book: Book) -> Iterator[str]:
    gone = [photo.file for photo in book.material.photos if not book.jpegs[photo.file]]
    if gone:
        pictures = counted(len(gone), "{count} picture", "{count} pictures")
        yield (
            worded(
                "{pictures} that the log names cannot be shown, for they are gone, damaged or "
                "not those that were matched: {listed}",
                pictures=pictures,
                listed=listed(gone, _NAMED),
            )
        )
