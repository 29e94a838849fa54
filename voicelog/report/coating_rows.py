"""Coating ratings: of the coating alone, and never on page one."""

from __future__ import annotations

from voicelog.domain.rating import CoatingRating
from voicelog.domain.report import Coating
from voicelog.report.material import Book, Place
from voicelog.report.wording import grouped
from voicelog.tongue import worded


def coating_rows(book: Book) -> tuple[Coating, ...]:
    """Every rated place in the order of the map."""
    return tuple(
        _row((state.zone, state.side), state.coating, book)
        for state in book.material.advice.places
        if state.coating is not None
    )


def _row(place: Place, rating: CoatingRating, book: Book) -> Coating:
    about = (worded("about") + " ") if rating.approximate else ""
    share = "" if rating.rusted_percent is None else f"{grouped(rating.rusted_percent)} %, "
    return Coating(
        book.place_of(*place), worded("{share}told by eye", share=share), worded("{about}grade {d610}", about=about, d610=rating.d610),
        worded("{about}Ri {ri}", about=about, ri=rating.ri), f"{about}{rating.imo}",
    )  # fmt: skip
