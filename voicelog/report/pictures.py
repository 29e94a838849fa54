"""Photographs with what is known of them."""

from __future__ import annotations

from voicelog.domain.entry import Finding
from voicelog.domain.photo import Photo
from voicelog.domain.report import Picture
from voicelog.findings.wording import what_in_words
from voicelog.report.material import Book
from voicelog.report.wording import in_local_time, raised
from voicelog.tongue import worded

_SURE = 0.995
"""From here on a matching is told as sure: a person said so."""


def pictures_of(number: int, finding: Finding, book: Book) -> tuple[Picture, ...]:
    """The pictures that show a finding."""
    what = what_in_words(finding) or worded("a fault not named")
    alt = worded(
        "Photograph of finding {number}: {place}, {what}",
        number=number,
        place=book.place(finding.entry.slots),
        what=what,
    )
    return tuple(_picture(photo, alt, book) for photo in book.photos_of(finding))


def other_pictures(book: Book) -> tuple[Picture, ...]:
    """The pictures that belong to no finding; a picture of a clear place is one of them."""
    return tuple(
        _picture(
            photo,
            worded("Photograph that belongs to no finding: {original}", original=photo.original),
            book,
        )
        for photo in book.material.photos
        if book.jpegs[photo.file] and not book.numbers.keys() & set(photo.entries)
    )


def _picture(photo: Photo, alt: str, book: Book) -> Picture:
    taken = (
        worded("taken {in_local_time}", in_local_time=in_local_time(photo.taken, book.opened))
        if photo.taken
        else worded("not dated")
    )
    return Picture(photo.file, book.jpegs[photo.file], raised(f"{taken}; {_matched(photo)}"), alt)


def _matched(photo: Photo) -> str:
    by = (" " + worded("by {by}", by=photo.by)) if photo.by else ""
    if not photo.entries:
        return worded("nobody knows which entry it shows")
    if photo.confidence >= _SURE:
        return f"matched{by}"
    why = f": {', '.join(photo.because)}" if photo.because else ""
    return worded(
        "matched{by}, {confidence} % sure{why}",
        by=by,
        confidence=f"{photo.confidence * 100:.0f}",
        why=why,
    )
