"""Signatures, hashes and what they prove; and what the report was made with."""

from __future__ import annotations

from collections.abc import Iterator

from voicelog import __version__
from voicelog.domain.entry import Kind
from voicelog.domain.report import Row, Signed
from voicelog.domain.revision import Signature
from voicelog.domain.signing import changed_after, signatures
from voicelog.report.material import Book
from voicelog.report.wording import counted, in_local_time, short, with_numbers
from voicelog.tongue import joined, to_word, worded

NOTICE = to_word(
    "This report grades what one person said while looking, by rules that can be read. It vouches "
    "for nothing: a place that nobody looked at stays unknown, and local law and licensed practice "
    "decide. Words in quotation marks are the inspector’s own, as the program heard them."
)
"""What the report is, and is not."""

PROVES = to_word(
    "Every line of the log holds the hash of the line before. Whoever noted the last line’s hash, or "
    "a signature’s, can see later that nothing before it was changed, left out or put in."
)
VOUCHES = to_word(
    "It proves that nothing was changed since; it vouches for nothing else: not that what was said "
    "is right, nor that everything was looked at, nor who said it."
)

CHECK = to_word(
    "voicelog verify, on the log’s folder. Without this program, the last line’s hash is what "
    "tail -n 1 journal.jsonl | tr -d '\\n' | sha256sum prints."
)


def signed(book: Book) -> tuple[Signed, ...]:
    """Every signature, the oldest first, with what was changed after it."""
    facts = book.material.facts
    return tuple(_signed(signature, book) for signature in signatures(facts))


def _signed(signature: Signature, book: Book) -> Signed:
    lines = changed_after(book.material.facts, signature)
    later = ""
    if lines:
        named = ", ".join(map(str, lines[:8])) + (" …" if len(lines) > 8 else "")
        later = worded(
            "{counted} came after it, in line {named} of the log",
            counted=counted(len(lines), "{count} change", "{count} changes"),
            named=named,
        )
    return Signed(
        signature.by, in_local_time(signature.at, book.opened), signature.sha256, signature.lines,
        tuple(with_numbers(line, book.numbers) for line in signature.open), signature.why, later,
    )  # fmt: skip


def chain_rows(book: Book) -> tuple[Row, ...]:
    """The log's id, its last line's hash, and what they prove and do not."""
    return tuple(Row(label, value) for label, value in _chain(book) if value)


def _chain(book: Book) -> Iterator[tuple[str, str]]:
    yield worded("Log"), str(book.opened.get("log_id") or "")
    yield worded("Lines"), str(len(book.material.facts))
    yield worded("Hash of the last line"), book.material.last_sha256
    yield worded("What the hashes are for"), worded(PROVES)
    yield worded("What they are not"), worded(VOUCHES)
    yield worded("To check them"), worded(CHECK)
    yield worded("Left out here, kept in the log"), _left_out(book)


def _left_out(book: Book) -> str:
    findings = book.material.inspection.findings
    withdrawn = sum(finding.withdrawn for finding in findings)
    remarks = [
        finding
        for finding in book.material.inspection.live
        if finding.entry.kind is Kind.REMARK and not finding.entry.tags
    ]
    told = [
        counted(withdrawn, "{count} withdrawn entry", "{count} withdrawn entries")
        if withdrawn
        else "",
        counted(
            len(remarks),
            "{count} remark that is no finding",
            "{count} remarks that are no findings",
        )
        if remarks
        else "",
    ]
    return ", ".join(part for part in told if part)


def made_rows(book: Book) -> tuple[Row, ...]:
    """Program, version, ear, rules and time."""
    return tuple(Row(label, short(value, 200)) for label, value in _made(book) if value)


def _made(book: Book) -> Iterator[tuple[str, str]]:
    opened, material = book.opened, book.material
    ear = [str(opened[key]) for key in ("ear", "model") if opened.get(key)]
    yield worded("Inspected with"), str(opened.get("program") or "")
    yield worded("Heard by"), ", ".join(ear)
    yield worded("Places"), f"{material.zone_map.title} ({material.zone_map.id})"
    rules = counted(len(material.rules.rules), "{count} rule", "{count} rules")
    yield worded("Rules"), joined(", ", (material.rules.id, rules))
    yield worded("Report by"), f"voicelog {__version__}"
    yield worded("Report made"), in_local_time(material.made_at, opened) if material.made_at else ""
