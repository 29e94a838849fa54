"""What was unsafe as it was said, and was changed or withdrawn before anybody looked at it again."""

from __future__ import annotations

from voicelog.domain.entry import Entry, Finding
from voicelog.findings.places import place_in_words
from voicelog.findings.wording import condition_in_words
from voicelog.report.material import Book
from voicelog.report.wording import listed
from voicelog.tongue import worded, worded_many

_SHOWN = 3
"""Of them on page one; the others are counted, and stand with the findings."""


def once_unsafe(finding: Finding, book: Book) -> str:
    """What one finding was while it was unsafe; empty where nobody has to be told."""
    before = book.softened.get(finding.entry.id)
    if before is None:
        return ""
    same = _place(before, book) == _place(finding.entry, book)
    was = condition_in_words(before) if same else _was(before, book)
    return worded("unsafe when first said: {was}", was=was)


def once_unsafe_lines(book: Book) -> tuple[str, ...]:
    """The same of all of them, for page one: a corrected mishearing looks just like it."""
    if not book.softened:
        return ()
    told = [_told(finding, book) for finding in _told_of(book)]
    return (
        worded_many(
            "{count} finding was unsafe when first said, changed since, and nobody confirmed that: "
            "{named}.",
            "{count} findings were unsafe when first said, changed since, and nobody confirmed that: "
            "{named}.",
            len(told),
            named=listed(told, _SHOWN, by="; "),
        ),
    )


def _told_of(book: Book) -> list[Finding]:
    """Those that hold as findings in the order of their numbers, then what is none any more."""
    every = book.material.inspection.findings
    found = [finding for finding in every if finding.entry.id in book.softened]
    return sorted(found, key=lambda one: book.numbers.get(one.entry.id, len(every)))


def _told(finding: Finding, book: Book) -> str:
    was, number = _was(book.softened[finding.entry.id], book), book.numbers.get(finding.entry.id)
    if finding.withdrawn:
        return worded("{was} (withdrawn)", was=was)
    if number is None:
        return worded("{was} (now nothing found)", was=was)
    return worded("{was} (now finding {number})", was=was, number=number)


def _was(before: Entry, book: Book) -> str:
    return f"{_place(before, book)}, {condition_in_words(before)}"


def _place(entry: Entry, book: Book) -> str:
    return place_in_words(entry.slots, book.material.zone_map)
