"""The work list, with the findings' numbers; and what a region's inspector would look up."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from voicelog.domain.advice import Pointer, WorkItem
from voicelog.domain.entry import Finding
from voicelog.domain.report import Row, Work
from voicelog.findings.work_list import alike
from voicelog.report.items import limits, steps_of, what
from voicelog.report.material import Book
from voicelog.report.wording import raised


def work_rows(book: Book) -> tuple[Work, ...]:
    """What is to be done, in the order in which it should be; places that need the same together."""
    shared = _shared(book)
    return tuple(_work(items, shared, book) for items in alike(book.material.advice.work))


def _work(items: Sequence[WorkItem], shared: Mapping[str, object], book: Book) -> Work:
    item, places = items[0], raised("; ".join(one.place for one in items))
    own = tuple(caution for caution in item.cautions if caution not in shared)
    number = book.numbers.get(item.entry, 0)
    told = _what(book.findings[number - 1], book) if number else item.what
    steps = steps_of(item, book)
    return Work(item.urgency, number, places, told, steps, item.source, own)


def _what(finding: Finding, book: Book) -> str:
    """The same words as where the finding is told in full."""
    return "; ".join((what(finding), *limits(finding, book)))


def work_cautions(book: Book) -> tuple[str, ...]:
    """What holds for all work, then what holds for more than one row, with the findings it is about."""
    return (
        *book.material.rules.work_cautions,
        *(_with_findings(caution, entries, book) for caution, entries in _shared(book).items()),
    )


def _with_findings(caution: str, entries: Sequence[str], book: Book) -> str:
    return f"{caution} ({named})" if (named := raised(book.numbered(entries))) else caution


def _shared(book: Book) -> Mapping[str, Sequence[str]]:
    """The work's own cautions that stand at more than one row, with the findings' ids.

    A finding's own ones, as not to drive, stay beside it: there they are seen.
    """
    of_work = {caution for rule in book.material.rules.work for caution in rule.cautions}
    own = {caution for finding in book.findings for caution in finding.cautions}
    rows: dict[str, list[str]] = {}
    for items in alike(book.material.advice.work):
        for caution in items[0].cautions:
            if caution in of_work and caution not in own:
                rows.setdefault(caution, []).append(items[0].entry)
    return {caution: entries for caution, entries in rows.items() if len(entries) > 1}


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
