"""The work list, with the findings' numbers; and what a region's inspector would look up."""

from __future__ import annotations

from voicelog.domain.advice import Pointer
from voicelog.domain.report import Row, Work
from voicelog.report.material import Book
from voicelog.report.wording import raised


def work_rows(book: Book) -> tuple[Work, ...]:
    """What is to be done, in the order in which it should be."""
    return tuple(
        Work(
            item.urgency, book.numbers.get(item.entry, 0), raised(item.place), item.what,
            item.steps, item.source, item.cautions,
        )
        for item in book.material.advice.work
    )  # fmt: skip


def pointer_rows(book: Book) -> tuple[Row, ...]:
    """Every public rule once, with the findings that it is about; nothing is judged by it."""
    entries: dict[Pointer, list[str]] = {}
    for entry, pointers in book.material.pointers.items():
        for pointer in pointers:
            entries.setdefault(pointer, []).append(entry)
    return tuple(_row(pointer, book.numbered(found)) for pointer, found in entries.items())


def _row(pointer: Pointer, findings: str) -> Row:
    told = (pointer.about.rstrip("."), raised(findings), pointer.where)
    label = f"{pointer.document}, {pointer.item}" if pointer.item else pointer.document
    return Row(f"{label} ({pointer.region.upper()})", ". ".join(part for part in told if part))
