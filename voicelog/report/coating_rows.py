"""Coating ratings: of the coating alone, and never on page one."""

from __future__ import annotations

from voicelog.domain.entry import Kind
from voicelog.domain.rating import CoatingRating
from voicelog.domain.report import Coating
from voicelog.report.material import Book, Place
from voicelog.report.wording import grouped


def coating_rows(book: Book) -> tuple[Coating, ...]:
    """Every rated place in the order of the map."""
    return tuple(
        _row((state.zone, state.side), state.coating, book)
        for state in book.material.advice.places
        if state.coating is not None
    )


def _row(place: Place, rating: CoatingRating, book: Book) -> Coating:
    about = "about " if rating.approximate else ""
    return Coating(
        book.place_of(*place), _share(place, book), f"{about}grade {rating.d610}",
        f"{about}Ri {rating.ri}", f"{about}{rating.imo}",
    )  # fmt: skip


def _share(place: Place, book: Book) -> str:
    """The largest share that was said of the place."""
    shares = [
        float(finding.entry.slots["area_percent"])
        for finding in book.material.inspection.live
        if finding.entry.kind is Kind.FINDING
        and isinstance(finding.entry.slots.get("area_percent"), int | float)
        and place in book.places(finding.entry)
    ]
    return f"{grouped(max(shares))} %, told by eye" if shares else "told by eye"
